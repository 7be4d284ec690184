// What was typed and not kept: there again when one comes back, and when the page is loaded again.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, press as pressed, put, shown } from './host.mjs'

const { open } = bench()

const field = (page, name) => page.getByRole('textbox', { name, exact: true })
const press = (page, name) => pressed(page, page.getByRole('button', { name, exact: true }))
const leftTexts = (page) =>
  page.evaluate(() =>
    Object.entries(localStorage).flatMap(([key, text]) => (key.startsWith('truefall-left') ? text : [])),
  )

/** The screen left for the room and come back to, and the page loaded again: `begin` opens the form once more. */
async function leftTwice(page, begin, check) {
  await page.locator('header a').first().tap()
  await page.waitForSelector('main[data-page="room"]')
  await shown(page)
  await page.goBack()
  await shown(page)
  await begin()
  await check()
  await page.reload()
  await shown(page)
  await begin()
  await page.getByText('This is as you left it and not kept yet.').first().waitFor()
  await check()
}

test('a pipe in a wall that is not kept yet is there again, also when the page is loaded again', async () => {
  const { page } = await open('kestrel', 'behind')
  const begin = () => press(page, 'Behind the surface')
  await begin()
  await pressed(page, page.getByRole('radio', { name: 'In a wall' }))
  await put(page, field(page, 'Wall or floor it shows'), 'north wall')
  await put(page, field(page, 'Note'), 'shut-off behind it')
  await press(page, 'Add a place')
  await page.locator('[data-place="1"]').waitFor()
  await leftTwice(page, begin, async () => {
    await page.locator('[data-place="1"]').waitFor()
    assert.equal(await field(page, 'Wall or floor it shows').inputValue(), 'north wall')
    assert.equal(await field(page, 'Note').inputValue(), 'shut-off behind it')
  })
  await answered(page, 'write', () => page.locator('main button.strong').tap())
  await page.locator('[data-hidden="water-pipe"]').waitFor()
  await begin()
  assert.equal(await field(page, 'Note').inputValue(), '', 'kept, nothing of it is left')
  assert.deepEqual(await leftTexts(page), [])
})

test('layers as built that are not kept yet are there again, and gone once they were left on purpose', async () => {
  const { page } = await open('rowan', 'behind')
  const begin = () => press(page, 'Layers as built')
  await begin()
  await put(page, field(page, 'Measured at'), 'at the entry')
  const laid = page.locator('[data-layer] input').first()
  await put(page, laid, '17')
  await leftTwice(page, begin, async () => {
    assert.equal(await field(page, 'Measured at').inputValue(), 'at the entry')
    assert.match(await laid.inputValue(), /^17/)
  })
  await press(page, 'Not now')
  await begin()
  assert.equal(await field(page, 'Measured at').inputValue(), '')
})

test('a signature is held while one looks elsewhere, and neither it nor the name is put into the storage', async () => {
  const { page } = await open('kestrel', 'behind')
  const begin = () => press(page, 'Signature')
  await begin()
  await field(page, 'What is signed for').fill('framing approved')
  await field(page, 'Name').fill('R. Example')
  const pad = await page.locator('svg.pad').boundingBox()
  await page.mouse.move(pad.x + 40, pad.y + 60)
  await page.mouse.down()
  await page.mouse.move(pad.x + 160, pad.y + 30)
  await page.mouse.up()
  await page.locator('path.ink').waitFor()
  await page.goBack()
  await field(page, 'Name').waitFor({ state: 'detached' })
  await page.goForward()
  await shown(page)
  await begin()
  assert.equal(await field(page, 'Name').inputValue(), 'R. Example')
  assert.equal(await page.locator('path.ink').count(), 1)
  const stored = (await leftTexts(page)).join()
  assert.match(stored, /framing approved/)
  assert.doesNotMatch(stored, /R\. Example|strokes/)
  await page.reload()
  await shown(page)
  await begin()
  assert.equal(await field(page, 'What is signed for').inputValue(), 'framing approved')
  assert.equal(await field(page, 'Name').inputValue(), '')
})

test('an approval that is not recorded yet is there again with the figures that were typed over', async () => {
  const { page } = await open('kestrel', 'approvals/J4')
  const filled = () =>
    page.waitForFunction(
      () => [...document.querySelectorAll('.three input')].filter((input) => input.value).length === 3,
    )
  await filled()
  await put(page, page.getByLabel('Deep at most'), '3/8')
  await put(page, page.getByLabel('Given by'), 'R. Example, engineer')
  await put(page, page.getByLabel('Reference'), 'letter 7')
  await page.reload()
  await filled()
  await shown(page)
  assert.equal(await page.getByLabel('Deep at most').inputValue(), '3/8')
  assert.equal(await page.getByLabel('Given by').inputValue(), 'R. Example, engineer')
  await answered(page, 'write', () => press(page, 'Record it'))
  await page.locator('[data-approval="J4"]').waitFor()
  await page.waitForFunction(() => Object.keys(localStorage).every((key) => !key.startsWith('truefall-left')))
  await page.reload()
  await filled()
  await shown(page)
  assert.equal(await page.getByLabel('Reference').inputValue(), '')
})

test('what was tried out is there again when the page is loaded again', async () => {
  const { page } = await open('banksia', 'tiles')
  await pressed(page, page.getByRole('button', { name: 'Start with a floor and a wall' }))
  const waste = page.getByLabel('For waste')
  await put(page, waste, '12')
  await page.reload()
  await page.getByText('This is as you left it and not kept yet.').waitFor()
  assert.equal(await waste.inputValue(), '12')
})
