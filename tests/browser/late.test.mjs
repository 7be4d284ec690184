// Answers that come late: what is struck or tapped meanwhile is neither lost nor done twice, and nothing moves under the
// hand before it is kept.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench, works } from './bench.mjs'
import { ask, press, put, shown, tap } from './host.mjs'
import { Thumb, strike } from './thumb.mjs'

const { open, unread } = bench()

/** Holds the requests of this name back on their way; what is answered lets them go. */
const heldRequests = (page, name) => held(page, name, async (route) => () => route.continue())

/** Holds the answers to the requests of this name back, after what was asked is done. */
async function heldAnswers(page, name) {
  return held(page, name, async (route) => {
    const response = await route.fetch()
    return () => route.fulfill({ response })
  })
}

/** Each request is taken up as it comes, and let go once what is answered here is called. */
async function held(page, name, take) {
  const taken = []
  let free = false
  await page.route(`**/dispatch/${name}`, async (route) => {
    const letGo = await take(route)
    if (free) await letGo()
    else taken.push(letGo)
  })
  return async () => {
    free = true
    await Promise.all(taken.map((letGo) => letGo()))
    await shown(page)
  }
}

/** What went wrong, but for what the core says of half a number. */
const unexpected = ({ wrong }) => wrong.filter((line) => !line.includes('422'))

/** How often the room was changed by this command. */
async function changes(page, room, command) {
  const { entries } = await ask(page, 'history', { room })
  return entries.filter((entry) => entry.command === command).length
}

/** A page at the first point of a room with nothing read, its mark read. */
async function reading() {
  const { page, room } = await unread('readings/joists')
  await press(page, page.locator('form button[type="submit"]'))
  await new Thumb(page).enter('44-1/4')
  await page.waitForSelector('[data-point="J1@0"]')
  await shown(page)
  const entered = async () => {
    const { surveys } = await ask(page, 'room', { room })
    return surveys[0].points.flatMap(({ id, reading }) => (reading ? [`${id} ${reading.entered}`] : []))
  }
  return { page, room, entered }
}

test('what is typed while a number is being kept is the next one, its Enter too', async () => {
  const { page, entered } = await reading()
  const release = await heldRequests(page, 'write')
  await strike(page, '44 1/8')
  await page.keyboard.press('Enter')
  await page.waitForSelector('.held.waiting')
  await strike(page, '44 3/16')
  await page.keyboard.press('Enter')
  await strike(page, '44 1')
  assert.match(await page.locator('output').innerText(), /44 1\/8/, 'the number on its way stands as it was')
  await release()
  await page.waitForSelector('[data-point="J1@60"]')
  assert.deepEqual(await entered(), ['J1@0 44 1/8', 'J1@30 44 3/16'])
  assert.match(await page.locator('output').innerText(), /^44 1\b(?!\/)/)
  assert.deepEqual(unexpected(page), [])
})

test('a change that is told of before its answer moves no point under the hand', async () => {
  const { page, entered } = await reading()
  await page.reload()
  await page.waitForSelector('[data-point="J1@0"]')
  await shown(page)
  const release = await heldAnswers(page, 'write')
  const told = page.waitForResponse((answer) => answer.url().endsWith('/dispatch/room'))
  await strike(page, '44 1/8')
  await page.keyboard.press('Enter')
  await (await told).finished()
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))
  assert.deepEqual(await entered(), ['J1@0 44 1/8'], 'it is on disk')
  assert.equal(await page.locator('[data-point]').getAttribute('data-point'), 'J1@0')
  await release()
  await page.waitForSelector('[data-point="J1@30"]')
  assert.deepEqual(unexpected(page), [])
})

test('while a reading is being taken back, undo takes no second one', async () => {
  const { page, entered } = await reading()
  const thumb = new Thumb(page)
  for (const [text, next] of [
    ['44-1/8', 'J1@30'],
    ['44-3/16', 'J1@60'],
  ]) {
    await thumb.enter(text)
    await page.waitForSelector(`[data-point="${next}"]`)
  }
  const release = await heldRequests(page, 'undo')
  await thumb.tap('[data-key="undo"]')
  await page.waitForSelector('[data-key="undo"]:disabled')
  await release()
  await page.waitForSelector('[data-point="J1@30"]')
  assert.deepEqual(await entered(), ['J1@0 44-1/8'])
})

test('what is tried out is kept once, however often the key is pressed', async () => {
  const { page, room } = await open('rowan', 'ledges')
  await press(page, page.getByRole('button', { name: 'bench', exact: true }))
  await put(page, page.getByLabel('Back, down from the line'), '17')
  await put(page, page.getByLabel('Front, down from the line'), '17-1/4')
  const release = await heldRequests(page, 'write')
  const key = page.getByRole('button', { name: 'Keep this' })
  await tap(page, key)
  await tap(page, key)
  await release()
  await key.waitFor({ state: 'detached' })
  assert.equal((await works(page, room)).ledges.length, 1)
  assert.equal(await changes(page, room, 'ledges-set'), 1)
})

test('a joist that is tapped twice is as it was, also before the first tap is answered', async () => {
  const { page, room } = await unread('structure')
  const cut = page.locator('li[data-question="cut"]')
  const release = await heldRequests(page, 'write')
  await tap(page, cut.getByRole('button', { name: 'J6', exact: true }))
  await tap(page, cut.getByRole('button', { name: 'J6', exact: true }))
  await release()
  assert.equal((await changes(page, room, 'gate-set')) + (await changes(page, room, 'gate-clear')), 2)
  const { gate } = await ask(page, 'room', { room })
  const { joists } = gate.find(({ question }) => question === 'cut')
  assert.deepEqual(
    joists.filter(({ answer }) => answer === 'unsound'),
    [],
  )
})

test('a place is gauged once: its gauges rest until the next place is shown', async () => {
  const { page, room } = await open('kestrel', 'straightedge')
  const release = await heldRequests(page, 'straightedge-walk')
  const kept = page.waitForResponse((answer) => answer.url().endsWith('/dispatch/write'))
  await tap(page, page.locator('[data-gauge="0"]'))
  await (await kept).finished()
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))))
  assert.ok(await page.locator('[data-place="1"] [data-gauge="0"]').isDisabled())
  await release()
  await page.waitForSelector('[data-place="2"]')
  assert.equal((await ask(page, 'straightedge-walk', { room })).gauged, 1)
})

test('a tilt that is typed while the step before is being kept is that of the next step', async () => {
  const { page, room } = await unread('tilt/joists')
  await press(page, page.locator('button[type="submit"]'))
  await page.waitForSelector('[data-front="1"]')
  const release = await heldRequests(page, 'write')
  await strike(page, '0.2')
  await page.keyboard.press('Enter')
  await page.waitForSelector('.held.waiting')
  await strike(page, '0.1')
  await page.keyboard.press('Enter')
  await release()
  await page.waitForSelector('[data-front="3"]')
  const { walks } = await ask(page, 'tilt-walks', { room, survey: 'joists' })
  assert.deepEqual(
    walks.map(({ steps }) => steps),
    [2],
  )
  const { readings } = JSON.parse((await ask(page, 'room-export', { room })).text)
  assert.deepEqual(
    readings.map(({ entered }) => parseFloat(entered)),
    [0.2, 0.1],
  )
})
