// Setting out a room that is no rectangle: drawn by taps, typed exactly, measured from any corner, with two drains.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'
import { ask, openPage, startBrowser, startHost, visit, write } from './host.mjs'

let host, browser
before(async () => {
  host = await startHost()
  browser = await startBrowser()
})
after(async () => {
  await browser?.close()
  await host?.stop()
})

/** A new room in mm on its plan screen. */
async function open() {
  const page = await openPage(browser, host.address)
  const room = crypto.randomUUID()
  await write(page, room, 'room-new', { name: 'Cedar Row bath', units: 'mm', created: '2036-03-02T08:15:00Z' })
  await visit(page, `#/rooms/${room}/plan`)
  return { page, room, kept: async () => (await ask(page, 'room', { room })).plan }
}

const choose = (page, group, name) => page.getByRole('group', { name: group }).getByRole('radio', { name }).tap()
const corner = (page, n) => page.getByRole('group', { name: `Corner ${n}`, exact: true })

test('a room is drawn by taps, its corners typed exactly, and only its floor is read', async () => {
  const { page, kept } = await open()
  await page.getByRole('radio', { name: 'Floor in place' }).tap()
  await choose(page, 'Corners', 'Drawn')
  const drawing = page.locator('[data-drawing]')
  await drawing.scrollIntoViewIfNeeded()
  // The far right corner is held and put where the room ends short; a new one follows the last.
  const spots = await drawing
    .locator('circle')
    .evaluateAll((all) => all.map((c) => [+c.getAttribute('cx'), +c.getAttribute('cy')]))
  await drawing.tap({ position: { x: spots[2][0], y: spots[2][1] } })
  await drawing.tap({ position: { x: (spots[2][0] + spots[0][0]) / 2, y: (spots[2][1] + spots[0][1]) / 2 } })
  await corner(page, 3).getByLabel('From the left wall').fill('1400')
  await corner(page, 3).getByLabel('From the door wall').fill('1300')
  await page.getByRole('button', { name: 'Keep this plan' }).tap()
  await page.waitForSelector('[data-next]')
  const plan = await kept()
  assert.deepEqual(plan.outline, [
    [0, 0],
    [2400, 0],
    [1400, 1300],
    [0, 2400],
  ])
  assert.ok(plan.points.length > 0)
  assert.ok(plan.points.every(({ x, y }) => !(x > 1500 && y > 1500)))
})

test('corners that make no room are said, and nothing is kept until they do', async () => {
  const { page } = await open()
  await choose(page, 'Corners', 'Drawn')
  await corner(page, 3).getByLabel('From the left wall').fill('0')
  await page.getByRole('alert').getByText('These corners make no room').waitFor()
  assert.ok(await page.getByRole('button', { name: 'Keep this plan' }).isDisabled())
  await page.getByRole('button', { name: 'Take out corner 3' }).tap()
  await page.getByRole('alert').getByText('These corners make no room').waitFor({ state: 'detached' })
})

test('any corner may be measured from, and its walls have the names they are called by', async () => {
  const { page, kept } = await open()
  await choose(page, 'Measured from', 'Far wall, right corner')
  await page.getByLabel('Second wall').fill('window wall')
  await page.getByRole('button', { name: 'Keep this plan' }).tap()
  await page.waitForSelector('[data-next]')
  const { base_wall, side_wall } = await kept()
  assert.deepEqual([base_wall, side_wall], ['far wall', 'window wall'])
})

test('a second drain and a part of a side as the entry are kept and read back', async () => {
  const { page, room, kept } = await open()
  await page.getByRole('radio', { name: 'Alcove shower' }).tap()
  await choose(page, 'What is read', 'Fall to a drain')
  await choose(page, 'A second drain', 'Yes')
  await choose(page, 'Shower entry', 'across from the left wall')
  await page.locator('[data-entry]').getByLabel('Open from').fill('100')
  await page.locator('[data-entry]').getByLabel('to').fill('700')
  await page.getByRole('button', { name: 'Keep this plan' }).tap()
  await page.waitForSelector('[data-next]')
  const plan = await kept()
  assert.deepEqual(plan.second_drain, { from: [750, 225] })
  assert.deepEqual(plan.entry, [
    [1500, 700],
    [1500, 100],
  ])
  await visit(page, `#/rooms/${room}/plan`)
  assert.equal(await page.locator('[data-entry]').getByLabel('to').inputValue(), '700')
})
