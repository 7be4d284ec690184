// What is done on the knees besides reading point after point: seeking the high point, chalking the floor, checking the
// level, a level that was bumped, and reading again after the work.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, press, shown, visit, write } from './host.mjs'
import { said } from './demo.mjs'
import { walk } from './kestrel.mjs'
import { Thumb } from './thumb.mjs'

const INCH = 25.4

const { unread } = bench()

/** A room read as far as `count`, its set-up still open. */
async function reading(count = walk.length) {
  const { page, room } = await unread()
  const setup = await stand(page, room, 'joists')
  for (const { point, text } of walk.slice(0, count)) await read(page, room, setup, point, text)
  return { page, room, setup }
}

async function stand(page, room, survey) {
  const setup = crypto.randomUUID()
  await write(page, room, 'setup-open', {
    setup,
    survey,
    instrument: 'laser line and tape',
    sd_mm: INCH / 32,
    benchmark: { name: 'door mark', height: 0 },
    opening: { text: '44-1/4', mm: 44.25 * INCH, at: '2026-03-02T08:15:00Z' },
  })
  return setup
}

async function read(page, room, setup, point, text) {
  const { mm } = await ask(page, 'length', { text, units: 'in' })
  const given = { reading: crypto.randomUUID(), setup, point, sense: 'down', sd_mm: INCH / 32, source: 'typed' }
  await write(page, room, 'reading-add', { ...given, entered: text, value: mm })
}

test('the governing high point is sought along its joist, and kept with its place as one step', async () => {
  const { page, room } = await reading()
  await visit(page, `#/rooms/${room}/findings`)
  const task = page.locator('a.task', { hasText: 'J4 governs' })
  await task.waitFor()
  await task.tap()
  await page.waitForSelector('[data-seeking="J4"]')
  await shown(page)
  assert.match(await said(page.locator('.ask')), /along J4 from 30 in to 90 in and find the smallest number/)
  assert.match(await said(page.locator('.along output')), /60 in from the door wall/)
  const minus = page.locator('.along button').first()
  for (let k = 0; k < 8; k += 1) await press(page, minus)
  assert.match(await said(page.locator('.along output')), /52 in/)
  const thumb = new Thumb(page)
  await thumb.put('43-13/16')
  await thumb.tap('[data-key="keep"]')
  await page.waitForSelector('main[data-page="findings"] h2')
  const points = async () => (await ask(page, 'room', { room })).surveys[0].points
  const found = (await points()).find(({ id }) => id === 'J4@52')
  assert.equal(found.reading.entered, '43-13/16')
  assert.ok(Math.abs(found.y - 52 * INCH) < 1e-6 && found.joist === 'J4')
  const { alternatives } = await ask(page, 'height', { room })
  const level = alternatives.find(({ name }) => name === 'level-nothing-cut')
  assert.ok(Math.abs(level.hold - 43.8125 * INCH) < 1e-6, 'the height hangs on it')
  await ask(page, 'undo', { id: crypto.randomUUID(), room })
  assert.equal((await points()).length, 28, 'one undo takes back the reading and its place')
  assert.deepEqual(page.wrong, [])
})

test('where another reading tells most is said, with the way to take it', async () => {
  const { page, room } = await reading()
  await visit(page, `#/rooms/${room}/findings`)
  const advice = page.locator('.view ul').nth(1).locator('a')
  assert.ok((await advice.count()) <= 3)
  assert.match(await said(advice.first()), /^1 J\d at \d+ the floor is known least here/)
  await advice.first().tap()
  await page.waitForSelector('[data-seeking]')
})

test('the floor is chalked mark by mark, highs first, and what was marked stays so', async () => {
  const { page, room } = await reading()
  await visit(page, `#/rooms/${room}/findings`)
  await page.getByRole('link', { name: 'Mark the floor' }).tap()
  await page.waitForSelector('[data-mark="high"]')
  await shown(page)
  assert.match(
    await said(page.locator('section[data-mark]')),
    /Chalk an X · J4 and write 7\/16 in beside it 56 in from the left wall ?60 in from the door wall/,
  )
  await answered(page, 'write', () => page.locator('[data-key="marked"]').tap())
  await page.waitForSelector('section[data-mark="low"]')
  await page.reload()
  await page.waitForSelector('section[data-mark="low"]')
  await shown(page)
  assert.match(await said(page.locator('header .side')), /1 of 2 marked/)
  await answered(page, 'write', () => page.locator('[data-key="marked"]').tap())
  await page.getByRole('heading', { name: 'All marked.' }).waitFor()
  assert.deepEqual(page.wrong, [])
})

test('the same points are read again after the work, and what really changed is told from what did not', async () => {
  const { page, room, setup } = await reading()
  const closing = { text: '44-1/4', mm: 44.25 * INCH, at: '2026-03-02T09:15:00Z' }
  await write(page, room, 'setup-close', { setup, closing })
  await visit(page, `#/rooms/${room}/compare`)
  await page.getByRole('button', { name: 'Read the same points again' }).tap()
  await page.waitForSelector('main[data-page="readings"] form')
  await shown(page)
  const survey = (await ask(page, 'room', { room })).surveys[1].id
  const again = await stand(page, room, survey)
  for (const { joist, point, text } of walk) {
    const { mm } = await ask(page, 'length', { text, units: 'in' })
    const raised = (mm - (joist === 'J6' ? INCH / 2 : 0)) / INCH
    await read(page, room, again, `${point}·2`, `${raised}`)
  }
  await visit(page, `#/rooms/${room}/compare`)
  assert.match(await said(page.locator('.said')), /4 of 28 points really changed/)
  const rows = page.locator('tr.real')
  assert.equal(await rows.count(), 4)
  assert.match(await said(rows.first()), /^J6 at 0 ?−1\/8 ?\+3\/8 ?\+1\/2/)
  assert.equal((await ask(page, 'height', { room })).survey, 'joists', 'the heights to build to stay those as found')
  assert.deepEqual(page.wrong, [])
})

test('a level is checked between two marks by taps alone', async () => {
  const { page, room } = await reading(0)
  await visit(page, `#/rooms/${room}/checks`)
  const thumb = new Thumb(page)
  for (const text of ['44', '45', '44', '45-1/8', '120', '96']) {
    await thumb.put(text)
    await thumb.tap('[data-key="next"]')
  }
  await page.waitForSelector('[data-found]')
  assert.match(
    await said(page.locator('[data-found]')),
    /rises as it runs away: 1:960\. At 96 in it reads 3\/32 in wrong/,
  )
  assert.deepEqual(page.wrong, [])
})

test('five readings of one point say how closely one reads, and the next set-up starts from that', async () => {
  const { page, room } = await reading(0)
  await write(page, room, 'setup-withdraw', { setup: (await ask(page, 'room', { room })).setups[0].setup.id })
  await visit(page, `#/rooms/${room}/checks`)
  await press(page, page.getByRole('tab', { name: 'How closely do you read?' }))
  const thumb = new Thumb(page)
  for (const text of ['44', '44-1/16', '44', '44-1/16', '44']) {
    await thumb.put(text)
    await thumb.tap('[data-key="next"]')
  }
  await page.waitForSelector('[data-found]')
  assert.match(
    await said(page.locator('[data-found]')),
    /You read to ±1\/16 in \(k = 2\); largest less smallest 1\/16 in/,
  )
  await press(page, page.getByRole('button', { name: 'Read with this' }))
  await visit(page, `#/rooms/${room}/readings`)
  await page.getByRole('button', { name: 'Read the mark' }).waitFor()
  await press(page, page.locator('summary').first())
  assert.match(await said(page.locator('details').first()), /cannot find 1\/8 in under 8 ft within/)
  assert.match(await said(page.locator('details').first()), /narrower than 30 in can hide/)
})

test('a level that was bumped: nothing moved, and one goes on; it moved, and its readings are asked for again', async () => {
  const { page, room } = await reading(5)
  await visit(page, `#/rooms/${room}/readings`)
  const thumb = new Thumb(page)
  const bump = async (text) => {
    await page.waitForSelector('[data-stage="reading"]')
    await press(page, page.locator('button.strip'))
    await press(page, page.getByRole('button', { name: 'The level was bumped' }))
    await page.waitForSelector('[data-stage="closing"]')
    assert.match(await said(page.locator('.point')), /without touching anything/)
    await thumb.enter(text)
    await page.waitForSelector('[data-stage="closed"]')
    await shown(page)
  }
  await bump('44-1/4')
  await answered(page, 'write', () => page.getByRole('button', { name: 'Go on reading' }).tap())
  await page.waitForSelector('[data-point="J2@30"]')
  assert.equal((await ask(page, 'room', { room })).setups[0].setup.closing ?? null, null)

  await bump('44-5/8')
  assert.match(await said(page.locator('[data-stage="closed"]')), /All 5 readings/)
  await answered(page, 'write', () => page.getByRole('button', { name: 'Set these readings aside' }).tap())
  await page.getByRole('button', { name: 'Read the mark' }).waitFor()
  const view = await ask(page, 'room', { room })
  assert.equal(view.surveys[0].read, 0)
  const { text } = await ask(page, 'room-export', { room })
  assert.equal(JSON.parse(text).readings.length, 5, 'they are kept')
  assert.deepEqual(page.wrong, [])
})
