// The survey of joists by taps alone, over the real core: nothing is typed and no keyboard opens.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench, takeBack } from './bench.mjs'
import { answered, ask, press, shown } from './host.mjs'
import { walk } from './kestrel.mjs'
import { Thumb, strike } from './thumb.mjs'

const { unread } = bench()

/** A page on the readings of a new room with the plan of the hall bath. */
async function startSurvey() {
  const { page, room } = await unread('readings/joists')
  await page.waitForSelector('form button[type="submit"]')
  return { page, room, thumb: new Thumb(page) }
}

/** Stands the level and reads the mark. */
async function open({ page, thumb }, text = '44-1/4') {
  await press(page, page.locator('form button[type="submit"]'))
  thumb.taps += 1
  await page.waitForSelector('[data-stage="opening"]')
  await thumb.enter(text)
  await page.waitForSelector('[data-stage="reading"]')
}

/** What the locator says, on one line. */
async function said(locator) {
  return (await locator.textContent()).replace(/\s+/g, ' ').trim()
}

/** Waits until the screen asks for this point. */
async function at(page, point) {
  await page.waitForSelector(`[data-point="${point}"]`)
}

async function readingAt(page, room, id) {
  const { surveys } = await ask(page, 'room', { room })
  return surveys[0].points.find((point) => point.id === id).reading
}

test('the hall bath is surveyed with at most three taps a reading, and closes', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  for (const { point, text } of walk) {
    await at(page, point)
    await thumb.enter(text)
  }
  await page.waitForSelector('[data-stage="closing"]')
  await thumb.enter('44-5/16')
  await page.waitForSelector('[data-stage="closed"]')
  assert.match(await said(page.locator('[data-stage="closed"] h2')), /Closes 1⁄16 in/)
  assert.match(await page.locator('[data-stage="closed"] .verdict').innerText(), /within/)

  const readings = walk.length + 2
  assert.ok(thumb.taps <= 3 * readings, `${thumb.taps} taps for ${readings} readings`)
  const view = await ask(page, 'room', { room })
  for (const { point, text } of walk) {
    const { reading } = view.surveys[0].points.find(({ id }) => id === point)
    assert.equal(reading.entered, text, point)
  }
  assert.equal(view.setups[0].closes, 'within')
  assert.deepEqual(page.wrong, [])
})

test('a burned inch is asked about, and both what was typed and what it was are kept', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  for (const { point, text } of walk.slice(0, 3)) {
    await at(page, point)
    await thumb.enter(text)
  }
  await at(page, 'J1@90')
  await thumb.put('43-1/8')
  await page.waitForSelector('[data-question="inch"]')
  assert.equal(await page.locator('[data-key="next"]').count(), 0, 'the question stands in the place of next')
  const [keep, was] = await page.locator('[data-question] button').all()
  assert.match(await said(keep), /^Keep 43-1⁄8$/)
  assert.match(await said(was), /^It was 44-1⁄8$/)
  for (const key of [keep, was]) {
    const box = await key.boundingBox()
    assert.ok(box.width > 330 && box.height >= 72, `${box.width} × ${box.height}`)
  }
  await thumb.tap('[data-question] button:last-child')
  await at(page, 'J2@0')
  const reading = await readingAt(page, room, 'J1@90')
  assert.equal(reading.entered, '44-1/8')
  assert.equal(reading.corrections, 1, 'what was typed is still there')

  await thumb.tap('[data-key="undo"]')
  await at(page, 'J1@90')
  assert.equal(await readingAt(page, room, 'J1@90'), null, 'one tap takes both back')
  assert.deepEqual(page.wrong, [])
})

test('what was asked about may be kept, and an ordinary crown keeps next', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  for (const { point, text } of walk.slice(0, 3)) {
    await at(page, point)
    await thumb.enter(text)
  }
  await at(page, 'J1@90')
  await thumb.put('43-1/8')
  await page.waitForSelector('[data-question="inch"]')
  await thumb.tap('[data-question] button:first-child')
  await at(page, 'J2@0')
  assert.equal((await readingAt(page, room, 'J1@90')).entered, '43-1/8')
  await thumb.tap('[data-key="undo"]')
  await at(page, 'J1@90')
  await thumb.enter('44-1/8')
  await at(page, 'J2@0')
  await thumb.put('43-3/4')
  await shown(page)
  assert.match(await said(page.locator('.beside')), /43\.750/)
  assert.equal(await page.locator('[data-question]').count(), 0, 'a crown is no slip')
  await thumb.tap('[data-key="next"]')
  await at(page, 'J2@30')
  assert.deepEqual(page.wrong, [])
})

test('undo takes back the last reading with one tap and asks for its point again', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  await thumb.enter('44-1/8')
  await at(page, 'J1@30')
  assert.match(await said(page.locator('[data-key="undo"]')), /J1 at 0 44-1⁄8/, 'the last reading stays in sight')
  await thumb.tap('[data-key="undo"]')
  await at(page, 'J1@0')
  assert.equal(await readingAt(page, room, 'J1@0'), null)
  assert.deepEqual(page.wrong, [])
})

test('a skipped point comes back at the end', async () => {
  const survey = await startSurvey()
  const { page, thumb } = survey
  await open(survey)
  await at(page, 'J1@0')
  await thumb.tap('[data-key="skip"]')
  await at(page, 'J1@30')
  for (const { point, text } of walk.slice(1)) {
    await at(page, point)
    await thumb.enter(text)
  }
  await at(page, 'J1@0')
  assert.deepEqual(page.wrong, [])
})

test('a reading typed on a keyboard is kept by Enter', async () => {
  const survey = await startSurvey()
  const { page, room } = survey
  await open(survey)
  await at(page, 'J1@0')
  await strike(page, '44 3/16 strong')
  await page.keyboard.press('Enter')
  await at(page, 'J1@30')
  assert.equal((await readingAt(page, room, 'J1@0')).entered, '44 3/16 strong')
  await strike(page, '44 3/17x')
  await page.waitForSelector('[role="alert"]')
  assert.match(await said(page.locator('output')), /44 3\/17x/, 'what was refused stays in the field')
  assert.deepEqual(
    page.wrong.filter((line) => !line.includes('422')),
    [],
  )
})

test('nothing is lost when the core does not answer', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  await at(page, 'J1@0')
  await page.route('**/dispatch/write', (route) => route.abort())
  await thumb.enter('44-1/8')
  await page.waitForSelector('[role="alert"]')
  assert.match(await said(page.locator('output')), /44-1⁄8/)
  await page.unroute('**/dispatch/write')
  await thumb.tap('[data-key="next"]')
  await at(page, 'J1@30')
  assert.equal((await readingAt(page, room, 'J1@0')).entered, '44-1/8')
})

test('the glass can be wiped: only two corners, one after the other, unlock it', async () => {
  const survey = await startSurvey()
  const { page, thumb } = survey
  await open(survey)
  await press(page, page.getByRole('button', { name: 'Lock the glass' }))
  await page.waitForSelector('dialog[open]')
  await page.touchscreen.tap(180, 500)
  await press(page, page.locator('dialog .two'))
  assert.ok(await page.isVisible('dialog[open]'))
  await press(page, page.locator('dialog .one'))
  await press(page, page.locator('dialog .two'))
  await page.waitForSelector('dialog', { state: 'detached' })
  await thumb.enter('44-1/8')
  await at(page, 'J1@30')
  assert.deepEqual(page.wrong, [])
})

test('both edges of a twisted joist are read, the left one first, and the twist is found', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  await at(page, 'J1@0')
  await press(page, page.locator('button.strip'))
  await press(page, page.getByRole('button', { name: 'Read both edges' }))
  for (const { point, text } of walk.slice(0, 4)) {
    await at(page, point)
    await page.waitForSelector('[data-edge="left"]')
    await thumb.enter(text)
    await at(page, point)
    await page.waitForSelector('[data-edge="right"]')
    await thumb.enter('44-3/8')
  }
  await at(page, 'J2@0')
  const view = await ask(page, 'room', { room })
  const first = view.surveys[0].points[0]
  assert.deepEqual(
    first.edges.map(({ edge, entered }) => `${edge} ${entered}`),
    ['left 44-1/8', 'right 44-3/8'],
  )
  const { findings } = await ask(page, 'findings', { room })
  const twist = findings.find(({ kind, subject }) => kind === 'twist' && subject === 'J1')
  assert.ok(Math.abs(Math.abs(twist.value) - 25.4 / 4) < 1e-6, `${twist?.value}`)
  assert.deepEqual(page.wrong, [])
})

test('a point read again takes the place of the first, or counts together with it', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  for (const { point, text } of walk.slice(0, 4)) {
    await at(page, point)
    await thumb.enter(text)
  }
  const choose = async (name) => {
    await press(page, page.locator('button.strip'))
    await press(page, page.getByRole('dialog').getByRole('button', { name }).first())
  }
  const height = async (id) => {
    const { map } = await ask(page, 'findings', { room })
    return map.points.find((point) => point.id === id).z / 25.4
  }
  /** A point read again an eighth off is asked about, since the line may have been read at its other edge. */
  const keep = async (text) => {
    await thumb.put(text)
    await page.waitForSelector('[data-question="line-edge"]')
    await thumb.tap('[data-question] button:first-child')
  }
  await choose(/^30/)
  await at(page, 'J1@30')
  await thumb.tap('[data-key="together"]')
  assert.match(await said(page.locator('.beside')), /Counts together with 44-3⁄16/)
  await keep('44-5/16')
  await at(page, 'J2@0')
  assert.ok(Math.abs((await height('J1@30')) - 0) < 1e-9, 'the mean of 44-3/16 and 44-5/16 lies on the mark')
  await choose(/^60/)
  await at(page, 'J1@60')
  assert.match(await said(page.locator('.beside')), /takes its place/)
  await keep('44-5/16')
  await at(page, 'J2@0')
  assert.ok(Math.abs((await height('J1@60')) + 1 / 16) < 1e-9)
  assert.deepEqual(page.wrong, [])
})

test('an inch lost at the mark is asked about before it sets every reading aside; both numbers are kept', async () => {
  const survey = await startSurvey()
  const { page, room, thumb } = survey
  await open(survey)
  for (const { point, text } of walk.slice(0, 4)) {
    await at(page, point)
    await thumb.enter(text)
  }
  await press(page, page.getByRole('button', { name: 'Choose a point' }))
  await press(page, page.getByRole('button', { name: 'Close this set-up on its mark' }))
  await page.waitForSelector('[data-stage="closing"]')
  await page.getByRole('link', { name: 'See the findings' }).waitFor()
  await thumb.put('43-5/16')
  await page.waitForSelector('[data-question="inch"]')
  await thumb.tap('[data-question] button:last-child')
  await page.waitForSelector('[data-stage="closed"]')
  const { setups } = await ask(page, 'room', { room })
  assert.deepEqual([setups[0].setup.closing.text, setups[0].closes], ['44-5/16', 'within'])
  const { entries } = await ask(page, 'history', { room })
  assert.equal(entries.filter(({ command }) => command === 'setup-close').length, 2)
  await takeBack(page)
  await page.waitForSelector('[data-stage="closing"], [data-stage="reading"]')
  assert.equal((await ask(page, 'room', { room })).setups[0].setup.closing ?? null, null)
  assert.deepEqual(page.wrong, [])
})
