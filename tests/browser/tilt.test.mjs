// The walk with a level on a foot: step by step by the pad, there and back, kept over a reload.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench, takeBack } from './bench.mjs'
import { answered, ask, press, put, shown } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { Thumb } from './thumb.mjs'

const { unread } = bench()

/** A page on the tilt walk of a room in inches that has nothing read. */
async function startWalk() {
  const { page, room } = await unread('tilt/joists')
  await page.waitForSelector('form[data-stage="set-out"]')
  return { page, room, thumb: new Thumb(page) }
}

/** Taps a tilt in tenths of a degree and *next*, and waits for the step after it. */
async function step({ page, thumb }, tilt, front) {
  if (tilt < 0) await thumb.tap('[data-key="minus"]')
  const [whole, tenths = ''] = Math.abs(tilt).toFixed(1).split('.')
  for (const digit of whole) await thumb.tap(`[data-key="${digit}"]`)
  if (tenths) await thumb.tap('[data-key="point"]')
  for (const digit of tenths) await thumb.tap(`[data-key="${digit}"]`)
  await thumb.tap('[data-key="next"]')
  await page.waitForSelector(
    front === undefined ? '[data-closes="within"], [data-closes="out"]' : `[data-front="${front}"]`,
  )
}

test('a walk there and back closes on its start, and a level that leans is taken out of it', async () => {
  const walk = await startWalk()
  const { page, room } = walk
  await put(page, page.locator('input').first(), '30')
  await page.tap('button[type="submit"]')
  await page.waitForSelector('[data-front="1"]')
  await shown(page)
  // The floor rises 0.1 and falls 0.3; the level reads a tenth of a degree too much either way.
  await assertTargets(page)
  await assertAccessible(page)
  await assertFits(page)
  await step(walk, 0.2, 2)
  await step(walk, -0.2, 3)
  await press(page, page.locator('[data-key="turn"]'))
  await page.waitForSelector('[data-step-of="back"][data-front="1"]')
  await step(walk, 0.4, 0)
  await step(walk, 0, undefined)
  const [told] = (await ask(page, 'tilt-walks', { room, survey: 'joists' })).walks
  assert.deepEqual([told.steps, told.back, told.closed_on], [2, 2, 'start'])
  const rise = (degrees) => 762 * Math.tan((degrees * Math.PI) / 180)
  assert.ok(Math.abs(told.stations[1].z - rise(0.1)) < 0.01, `${told.stations[1].z}`)
  assert.ok(Math.abs(told.stations[2].z - rise(0.1) + rise(0.3)) < 0.01, `${told.stations[2].z}`)
  const found = page.locator('section[data-closes]')
  await found.locator('h2').waitFor()
  assert.equal(await found.getAttribute('data-closes'), told.closes)
  assert.equal(await found.locator('tbody tr').count(), 3)
  assert.deepEqual(page.wrong, [])
})

test('half a walk is there after a reload, goes on where it was, and its last step is taken back', async () => {
  const walk = await startWalk()
  const { page, room } = walk
  await page.tap('button[type="submit"]')
  await page.waitForSelector('[data-front="1"]')
  await step(walk, 0.3, 2)
  await page.reload()
  await page.locator('section[data-closes="not-tested"] tbody tr').nth(1).waitFor()
  await page.getByRole('button', { name: 'Go on with this walk' }).tap()
  await page.waitForSelector('[data-front="2"]')
  await takeBack(page)
  await page.waitForSelector('[data-front="1"]')
  assert.deepEqual((await ask(page, 'tilt-walks', { room, survey: 'joists' })).walks, [])
})

test('a number that is no tilt of a floor is not kept, and what to see to is said', async () => {
  const walk = await startWalk()
  const { page, room, thumb } = walk
  await page.tap('button[type="submit"]')
  await page.waitForSelector('[data-front="1"]')
  for (const digit of '45') await thumb.tap(`[data-key="${digit}"]`)
  await answered(page, 'tilt', () => thumb.tap('[data-key="next"]'))
  assert.match(await page.locator('[role="alert"]').innerText(), /decimal point/)
  assert.deepEqual((await ask(page, 'tilt-walks', { room, survey: 'joists' })).walks, [])
  await page.waitForSelector('[data-front="1"]')
})

test('the practice level puts its tilt into the step that is open, kept as it came', async () => {
  const walk = await startWalk()
  const { page, room } = walk
  await ask(page, 'device-use', { device: 'practice-level', on: true })
  await page.tap('button[type="submit"]')
  await page.waitForSelector('[data-front="1"]')
  await page.locator('[data-device="practice-level"][data-state="ready"]').waitFor()
  await press(page, page.locator('[data-key="measure"]'))
  await page.waitForSelector('[data-front="2"]')
  const { journal, readings } = JSON.parse((await ask(page, 'room-export', { room })).text)
  assert.ok(journal.length > 0)
  const [reading] = readings
  assert.deepEqual([reading.sense, reading.source], ['tilt', 'device:practice-level'])
  assert.match(reading.entered, /^\d\.\d+°$/)
  assert.ok(Math.abs(reading.value - 1 / 48) < 0.001, `${reading.value}`)
  assert.equal(reading.from.profile, 'practice level')
  await ask(page, 'device-use', { device: 'practice-level', on: false })
  assert.deepEqual(page.wrong, [])
})
