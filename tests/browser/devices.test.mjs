// The practice laser, over the real core: what it reads lands in the highlighted point, once, whatever becomes of the
// link.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, openPage, press as pressed, shown, startHost, visit } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { walk } from './kestrel.mjs'
import { Thumb, strike } from './thumb.mjs'

const LASER = 'practice-laser'
const INCH = 25.4
/** What it may be off by: ±1 mm, and half a step of its display. */
const OFF = 1.05

const { begin, on, unread } = bench()

/** A page on the readings of a new room, with the mark read by thumb and the laser in use. */
async function startSurvey() {
  const { page, room } = await unread('devices')
  await shown(page, 'instruments too')
  const card = page.locator(`article[data-device="${LASER}"]`)
  if ((await card.getAttribute('data-state')) === 'put-away') await card.locator('[data-key="use"]').tap()
  await page.waitForSelector(`article[data-device="${LASER}"][data-state="ready"]`)
  await visit(page, `#/rooms/${room}/readings/joists`)
  await pressed(page, page.locator('form button[type="submit"]'))
  await page.waitForSelector('[data-stage="opening"]')
  await new Thumb(page).enter('44-1/4')
  await page.waitForSelector('[data-stage="reading"]')
  return { page, room }
}

const practice = (page, deed, more = {}) => ask(page, 'device-practice', { device: LASER, deed, ...more })

async function readings(page, room) {
  const { surveys } = await ask(page, 'room', { room })
  return surveys[0].points.filter((point) => point.reading)
}

/** Waits until the screen asks for this point. */
async function at(page, point) {
  await page.waitForSelector(`[data-point="${point}"]`)
}

/** `44-1/8` in inches. */
function inches(text) {
  const [whole, over = 0, under = 1] = text.split(/[-/]/).map(Number)
  return whole + over / under
}

/** The laser is put where the tape would read so, and its button is pressed on the screen. */
async function press(page, text) {
  await practice(page, 'rest', { mm: inches(text) * INCH })
  await page.locator(`[data-device="${LASER}"] [data-key="measure"]`).tap()
}

test('a reading lands in the highlighted point, the link is cut and comes back, nothing is lost or doubled', async () => {
  const { page, room } = await startSurvey()
  const few = walk.slice(0, 6)
  for (const [i, { point, text }] of few.entries()) {
    await at(page, point)
    if (i === 3) {
      await practice(page, 'leave')
      await page.waitForSelector(`[data-device="${LASER}"][data-state="lost"]`)
      assert.match(await page.locator(`[data-device="${LASER}"]`).innerText(), /link to the instrument broke/)
      await practice(page, 'press')
      await practice(page, 'return')
      await page.waitForSelector(`[data-device="${LASER}"][data-state="ready"]`)
      await shown(page, 'instruments too')
      assert.equal((await readings(page, room)).length, 3, 'pressed while the link was cut: nothing was taken')
    }
    await press(page, text)
  }
  await at(page, walk[6].point)
  const kept = await readings(page, room)
  assert.deepEqual(
    kept.map(({ id }) => id),
    few.map(({ point }) => point),
  )
  const file = JSON.parse((await ask(page, 'room-export', { room })).text)
  assert.equal(file.readings.length, few.length, 'none is there twice')
  for (const [i, reading] of file.readings.entries()) {
    assert.ok(Math.abs(reading.value - inches(few[i].text) * INCH) <= OFF, `${reading.value} for ${few[i].text}`)
    assert.equal(reading.source, `device:${LASER}`)
    assert.equal(reading.from.profile, 'practice laser')
    assert.equal(reading.from.profile_version, 1)
    assert.match(reading.from.raw, /^[0-9a-f]{16}$/)
    assert.ok(Math.abs(reading.sd_mm - Math.sqrt(1 / 3 + 0.01 / 12)) < 1e-9, `${reading.sd_mm}`)
  }
  assert.equal(new Set(file.readings.map(({ from }) => from.raw)).size, few.length)
  assert.deepEqual(page.wrong, [])
})

test('a reading an inch off is asked about as if it were typed', async () => {
  const { page, room } = await startSurvey()
  for (const { point, text } of walk.slice(0, 3)) {
    await at(page, point)
    await press(page, text)
  }
  await at(page, 'J1@90')
  await press(page, '43-1/8')
  await page.waitForSelector('[data-question="inch"]')
  assert.equal((await readings(page, room)).length, 3, 'nothing is kept before it is answered')
  await new Thumb(page).tap('[data-question] button:first-child')
  await at(page, 'J2@0')
  const [, , , kept] = await readings(page, room)
  assert.equal(kept.reading.entered.endsWith(' mm'), true)
  assert.deepEqual(page.wrong, [])
})

test('half a number in the box is not overwritten', async () => {
  const { page, room } = await startSurvey()
  await at(page, 'J1@0')
  await shown(page)
  await strike(page, '44 1')
  await press(page, '44-1/8')
  await page.waitForFunction(() => document.querySelector('p.heard')?.textContent.includes('half entered'))
  assert.match(await page.locator('output').innerText(), /44 1/)
  assert.equal((await readings(page, room)).length, 0)
  assert.deepEqual(
    page.wrong.filter((line) => !line.includes('422')),
    [],
  )
})

test('an instrument that acts as a keyboard is kept at its Enter, and a pasted list goes on point by point', async () => {
  const { page, room } = await startSurvey()
  await at(page, 'J1@0')
  await page.evaluate(() => {
    const strike = (key) => new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })
    for (const key of [...'1120.5 mm', 'Enter']) document.body.dispatchEvent(strike(key))
  })
  await at(page, 'J1@30')
  await page.evaluate(() => {
    const data = new DataTransfer()
    data.setData('text', '44-3/16\n44-3/16\n44-1/8\n')
    document.body.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }))
  })
  await at(page, 'J2@0')
  const kept = await readings(page, room)
  assert.deepEqual(
    kept.map(({ reading }) => reading.entered),
    ['1120.5 mm', '44-3/16', '44-3/16', '44-1/8'],
  )
  assert.deepEqual(page.wrong, [])
})

test('every practice instrument can be tried, and a device without Bluetooth says so', async () => {
  const page = await begin()
  await visit(page, '#/devices')
  const level = page.locator('article[data-device="practice-level"]')
  await level.locator('[data-key="use"]').tap()
  await page.waitForSelector('article[data-device="practice-level"][data-state="ready"]')
  await page.waitForFunction(() =>
    document.querySelector('article[data-device="practice-level"]').textContent.includes('°'),
  )
  assert.match(await level.innerText(), /battery 83 %/)
  await level.locator('[data-key="put-away"]').tap()
  await answered(page, 'devices-look', () => page.locator('[data-key="look"]').tap())
  await page.waitForSelector('.notice.failing')
  assert.match(await page.locator('.notice.failing').innerText(), /Bluetooth/)
  await answered(page, 'devices-look', () => page.locator('[data-key="look"]').tap())
  assert.deepEqual(page.wrong, [])
})

test('an instrument is taught by taps: a dozen measures, what its display shows, and one that is told first', async (context) => {
  const own = await startHost()
  context.after(() => own.stop())
  const page = await openPage(on.browser, own.address)
  await visit(page, '#/devices')
  await page.locator(`article[data-device="${LASER}"] [data-key="teach"]`).tap()
  await page.waitForSelector('[data-part="begin"]')
  await assertFits(page)
  await assertTargets(page)
  await assertAccessible(page)
  await page.tap('[data-key="begin"]')
  await page.waitForSelector('[data-lesson="playing"]')
  /** Puts it somewhere and presses its button; what its display shows. */
  const measured = async (mm) => {
    await practice(page, 'rest', { mm })
    await page.tap('[data-key="press"]')
    const shown = page.locator('.hands b', { hasText: new RegExp(`^${Math.floor(mm / 10)}\\d\\.\\d mm$`) })
    await shown.waitFor()
    return (await shown.innerText()).replace(' mm', '')
  }
  for (let k = 0; k < 12; k += 1) await measured(405 + 330 * k)
  await page.tap('[data-key="played"]')
  await page.waitForSelector('[data-lesson="showing"]')
  for (let k = 0; (await page.locator('[data-lesson="showing"]').count()) && k < 6; k += 1) {
    const shown = await measured(775 + 1310 * k)
    await page.locator('form input').fill(shown)
    await page.tap('[data-key="shown"]')
    // Until the screen says what it makes of the number: it waits for another, or tells one first.
    await page.waitForFunction(
      () =>
        document.querySelector('[data-lesson="checking"]') ??
        document.querySelector('.count')?.textContent.includes('Waiting'),
    )
  }
  await page.waitForSelector('[data-lesson="checking"]')
  await assertTargets(page)
  const shown = await measured(2345)
  await page.locator('.guess', { hasText: `${shown} mm` }).waitFor()
  await page.tap('[data-key="right"]')
  await page.waitForSelector('[data-lesson="learned"]')
  await page.tap('[data-key="stop"]')
  await page.waitForSelector(`article[data-device="${LASER}"]`)
})
