// The build-up of a curbless shower: read, changed, kept, taken back, and what no layer can be.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, keep, takeBack, unfold } from './bench.mjs'
import { eachSaid, said } from './demo.mjs'
import { ask, press, put, shown, write } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'

const { open } = bench()

async function openBuildUp(size) {
  const { page, room } = await open('rowan', 'build-up', size)
  await page.waitForSelector('[data-meeting]')
  return { page, room }
}

const meeting = (page, name) => page.waitForSelector(`[data-meeting="${name}"]`)
const field = (page, label) => page.getByLabel(label, { exact: true })
const layersOf = async (page, room) => (await ask(page, 'room', { room })).layers
const inches = (mm) => Math.round((mm / 25.4) * 1e6) / 1e6

/** The row of a layer of one side. */
const layer = (page, side, at) => page.locator('.sides section').nth(side).locator('ol > li').nth(at)

test('the shower stands an eighth proud, and nothing is ready', async () => {
  const { page } = await openBuildUp()
  const text = await said(page.locator('[data-meeting]'))
  assert.match(text, /The shower stands 1\/8 in proud\./)
  assert.match(text, /no membrane runs past the entry line/)
  assert.match(await said(page.locator('.page')), /Cleats for the deck: 3\/4 in below the tops of the joists\./)
  assert.deepEqual(page.wrong, [])
})

test('a thicker backer and a thicker edge are tried, kept, and taken back', async () => {
  const { page, room } = await openBuildUp()
  await layer(page, 0, 1).getByLabel('Thickness').fill('1/2')
  await meeting(page, 'too-low')
  await layer(page, 1, 1).getByLabel('Thickness').fill('1-1/4')
  await meeting(page, 'low')
  await shown(page)
  assert.match(await said(page.locator('[data-meeting]')), /The shower is 1\/16 in low: accepted\./)
  assert.equal(inches((await layersOf(page, room)).room[1].thickness), 0.25, 'trying keeps nothing')
  await keep(page)
  const kept = await layersOf(page, room)
  assert.deepEqual([kept.room[1].thickness, kept.shower[1].thickness].map(inches), [0.5, 1.25])
  await page.reload()
  await meeting(page, 'low')
  await takeBack(page)
  await meeting(page, 'proud')
  assert.equal(inches((await layersOf(page, room)).room[1].thickness), 0.25)
})

test('a way that makes it flush is one tap, and going back keeps what was kept', async () => {
  const { page, room } = await openBuildUp()
  await page.getByText('One of these makes it flush').tap()
  await page.getByRole('button', { name: 'Take it' }).first().tap()
  await meeting(page, 'flush')
  await page.getByRole('button', { name: 'Back to what was kept' }).tap()
  await meeting(page, 'proud')
  assert.equal((await layersOf(page, room)).room.length, 5)
})

test('a layer is taken from the shelf and removed again', async () => {
  const { page } = await openBuildUp()
  const room = page.locator('.sides section').first()
  await room.getByText('Add a layer').tap()
  await room.getByRole('button', { name: /^uncoupling sheet/ }).tap()
  await meeting(page, 'flush')
  await shown(page)
  assert.equal(await room.locator('ol > li').count(), 6)
  await room.getByRole('button', { name: 'Remove uncoupling sheet' }).tap()
  await meeting(page, 'proud')
})

test('a deck below the joist tops leaves too little bed over the joist beside the drain', async () => {
  const { page, room } = await openBuildUp()
  const layers = await layersOf(page, room)
  const shower = [{ name: 'mortar bed', thickness: 2 * 25.4, at_drain: 1.25 * 25.4 }]
  await write(page, room, 'layers-set', { layers: { ...layers, shower, shower_deck: -1.625 * 25.4 } })
  const beds = page.locator('[data-part="beds"]')
  await beds.waitFor()
  await shown(page)
  const rows = await eachSaid(beds.locator('li'))
  assert.match(rows[1], /J2: 3\/8 in of bed is left over it.*out.*at least 3\/4 in/i)
  assert.match(await said(beds), /have an engineer drop the joists/)
})

test('the riser is cut to what lies between its stops', async () => {
  const { page, room } = await openBuildUp()
  await page.getByText('Length of the drain’s riser').tap()
  await put(page, field(page, 'Stop in the pipe’s fitting, over the subfloor'), '-6')
  await put(page, field(page, 'Stop in the drain’s body, below its grate'), '1-1/2')
  assert.match(await said(page.locator('[data-part="riser"]')), /Cut the riser 4-13\/16 in\. Last of all/)
  await keep(page)
  assert.equal(inches((await layersOf(page, room)).riser.pipe), -6)
})

test('what no layer can be is said in a sentence, and nothing is lost', async () => {
  const { page, room } = await openBuildUp()
  const thickness = layer(page, 1, 1).getByLabel('Thickness')
  for (const [typed, words] of [
    ['-1', /zero or more/],
    ['12', /no more than the joists are deep/],
  ]) {
    await put(page, thickness, typed)
    assert.match(await said(alert(page)), words)
    await page.getByRole('button', { name: 'Keep this' }).tap()
    await page.waitForFunction(() => document.querySelectorAll('[role="alert"]').length === 2)
    assert.equal(await thickness.inputValue(), typed, 'what was typed stands')
    assert.equal(inches((await layersOf(page, room)).shower[1].thickness), 1.1875, 'what was kept stands')
    await thickness.fill('1-1/4')
    await meeting(page, 'proud')
    await page.waitForFunction(() => document.querySelectorAll('[role="alert"]').length === 0)
  }
  await thickness.fill('plenty')
  await page.locator('.wrong').first().waitFor()
})

test('everything unfolded is large enough and within the glass, with text twice as large too', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page } = await openBuildUp({ colorScheme })
    await unfold(page)
    await press(page, page.getByRole('button', { name: 'Falls to the drain, tolerances' }).first())
    await assertTargets(page)
    await assertFits(page)
    await assertAccessible(page)
    await page.evaluate(() => (document.documentElement.style.fontSize = '200%'))
    await assertFits(page)
  }
})
