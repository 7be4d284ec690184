// Setting out a room that is no rectangle: drawn by taps, typed exactly, measured from any corner, with two drains.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, press, put, shown, visit } from './host.mjs'
import { newRoom } from './rooms.mjs'

const { begin } = bench()

/** A new room in mm on its plan screen. */
async function open() {
  const page = await begin()
  const room = await newRoom(page, { name: 'Cedar Row bath', units: 'mm' })
  await visit(page, `#/rooms/${room}/plan`)
  return { page, room, kept: async () => (await ask(page, 'room', { room })).plan }
}

const choose = (page, group, name) => press(page, page.getByRole('group', { name: group }).getByRole('radio', { name }))

/** Keeps the plan, and waits until the room says what is next. */
async function keep(page) {
  await answered(page, 'write', () => page.getByRole('button', { name: 'Keep this plan' }).tap())
  await page.waitForSelector('[data-next]')
}

const corner = (page, n) => page.getByRole('group', { name: `Corner ${n}`, exact: true })

test('a room is drawn by taps, its corners typed exactly, and only its floor is read', async () => {
  const { page, kept } = await open()
  await press(page, page.getByRole('radio', { name: 'Floor in place' }))
  await choose(page, 'Corners', 'Drawn')
  const drawing = page.locator('[data-drawing]')
  await drawing.scrollIntoViewIfNeeded()
  // The far right corner is held and put where the room ends short; a new one follows the last.
  const spots = await drawing
    .locator('circle')
    .evaluateAll((all) => all.map((c) => [+c.getAttribute('cx'), +c.getAttribute('cy')]))
  await drawing.tap({ position: { x: spots[2][0], y: spots[2][1] } })
  await drawing.locator('circle.held').waitFor()
  await drawing.tap({ position: { x: (spots[2][0] + spots[0][0]) / 2, y: (spots[2][1] + spots[0][1]) / 2 } })
  await drawing.locator('circle.held').waitFor({ state: 'detached' })
  await put(page, corner(page, 3).getByLabel('From the left wall'), '1400')
  await put(page, corner(page, 3).getByLabel('From the door wall'), '1300')
  await keep(page)
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
  await put(page, corner(page, 3).getByLabel('From the left wall'), '0')
  await page.getByRole('alert').getByText('These corners make no room').waitFor()
  assert.ok(await page.getByRole('button', { name: 'Keep this plan' }).isDisabled())
  await page.getByRole('button', { name: 'Take out corner 3' }).tap()
  await page.getByRole('alert').getByText('These corners make no room').waitFor({ state: 'detached' })
})

test('any corner may be measured from, and its walls have the names they are called by', async () => {
  const { page, kept } = await open()
  await choose(page, 'Measured from', 'Far wall, right corner')
  await put(page, page.getByLabel('Second wall'), 'window wall')
  await keep(page)
  const { base_wall, side_wall } = await kept()
  assert.deepEqual([base_wall, side_wall], ['far wall', 'window wall'])
})

test('a second drain and a part of a side as the entry are kept and read back', async () => {
  const { page, room, kept } = await open()
  await press(page, page.getByRole('radio', { name: 'Alcove shower' }))
  await choose(page, 'What is read', 'Fall to a drain')
  await choose(page, 'A second drain', 'Yes')
  await choose(page, 'Shower entry', 'across from the left wall')
  await put(page, page.locator('[data-entry]').getByLabel('Open from'), '100')
  await put(page, page.locator('[data-entry]').getByLabel('to'), '700')
  await keep(page)
  const plan = await kept()
  assert.deepEqual(plan.second_drain, { from: [750, 225] })
  assert.deepEqual(plan.entry, [
    [1500, 700],
    [1500, 100],
  ])
  await visit(page, `#/rooms/${room}/plan`)
  assert.equal(await page.locator('[data-entry]').getByLabel('to').inputValue(), '700')
})
