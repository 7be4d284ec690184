// What tired hands do wrong: a length half typed, in another unit, a key pressed at once and twice.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, works } from './bench.mjs'
import { said } from './demo.mjs'
import { ask } from './host.mjs'

const INCH = 25.4
const { open, unread } = bench()

/** The journal's newest record of the room: another one, once anything was kept. */
const head = async (page, room) => (await ask(page, 'room', { room })).head

test('nothing is kept while a length is half typed: the field is named, and put right it is kept as it stands', async () => {
  const { page, room } = await open('kestrel', 'ledges')
  await page.getByRole('button', { name: 'bench', exact: true }).tap()
  const [back, front] = [page.getByLabel('Back, down from the line'), page.getByLabel('Front, down from the line')]
  await back.fill('17')
  await front.fill('17-1/4')
  await page.waitForFunction(() => document.querySelector('[data-ledge]').textContent.includes('1:'))
  await front.fill('17-3')
  await page.waitForSelector('[data-unread]')
  const before = await head(page, room)
  await page.getByRole('button', { name: 'Keep this' }).tap()
  assert.match(await said(alert(page)), /Front, down from the line.*nothing was kept.*Put that field right/)
  assert.equal(await head(page, room), before)
  assert.equal(await front.inputValue(), '17-3', 'what was typed stands')
  assert.ok(await front.evaluate((field) => field === document.activeElement), 'and the field has the focus')
  await front.fill('17-3/4')
  await page.getByRole('button', { name: 'Keep this' }).tap()
  await page.getByRole('button', { name: 'Keep this' }).waitFor({ state: 'detached' })
  const [{ front: kept }] = (await works(page, room)).ledges
  assert.equal(kept, 17.75 * INCH, 'pressed at once, the key waited for the length')
  assert.deepEqual(
    page.wrong.filter((said) => !said.includes('422')),
    [],
  )
})

test('an optional length that was not understood is not left out of what is kept', async () => {
  const { page, room } = await open('kestrel', 'behind')
  await page.getByRole('button', { name: 'Behind the surface' }).tap()
  await page.getByRole('button', { name: 'Add a place' }).tap()
  const depth = page.getByLabel('Below the finished surface')
  await depth.fill('44-3')
  const before = await head(page, room)
  await page.locator('main button.strong').tap()
  await page.locator('main p[role="alert"]').waitFor()
  assert.match(await said(page.locator('main p[role="alert"]')), /is not a number yet/)
  assert.equal(await head(page, room), before)
})

test('a plan in another unit is drawn as far as it goes and named, and the page lives on, also when it is loaded again', async () => {
  const { page } = await unread('plan')
  const width = page.getByRole('textbox', { name: 'Along the door wall' })
  await width.fill('999999999')
  await page.getByText('was one typed in another unit?').waitFor()
  assert.ok(await page.getByRole('button', { name: 'Keep this plan' }).isDisabled())
  await page.reload()
  await page.getByText('was one typed in another unit?').waitFor()
  await page.getByRole('textbox', { name: 'Along the door wall' }).fill('112')
  await page.getByText('was one typed in another unit?').waitFor({ state: 'detached' })
})
