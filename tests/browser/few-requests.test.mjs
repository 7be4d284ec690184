// How often one reading asks the core: over a weak link every question is a wait.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { ask, press, shown, visit } from './host.mjs'
import { Thumb } from './thumb.mjs'

const LASER = 'practice-laser'
const HELD = 44 * 25.4

const { unread } = bench()

/** What the page asks from now on, by name; what the test itself asks is not counted. */
function counted(page) {
  const names = []
  page.on('request', (request) => {
    const [, name] = request.url().match(/\/dispatch\/(.+)$/) ?? []
    if (name && !request.headers()['truefall-at-once']) names.push(name)
  })
  return names
}

/** The readings of a room whose mark is read: the first point is open, with a whole inch held. */
async function toFirstPoint(page, room) {
  await visit(page, `#/rooms/${room}/readings/joists`)
  await press(page, page.locator('form button[type="submit"]'))
  await page.waitForSelector('[data-stage="opening"]')
  await new Thumb(page).enter('44-1/4')
  await page.waitForSelector('[data-point="J1@0"]')
  await shown(page, 'instruments too')
}

async function ofRoom(page, room) {
  const { surveys } = await ask(page, 'room', { room })
  return surveys[0].points.filter((point) => point.reading)
}

test('a typed reading asks at most three times', async () => {
  const { page, room } = await unread()
  await toFirstPoint(page, room)
  const asked = counted(page)
  await new Thumb(page).enter('44-1/8')
  await page.waitForSelector('[data-point="J1@30"]')
  await shown(page, 'instruments too')
  assert.equal((await ofRoom(page, room)).length, 1)
  assert.ok(asked.length <= 3, asked.join(' '))
  assert.ok(asked.includes('write'))
  assert.deepEqual(page.wrong, [])
})

test("an instrument's reading asks at most four times", async () => {
  const { page, room } = await unread('devices')
  const card = page.locator(`article[data-device="${LASER}"]`)
  await card.locator('[data-key="use"]').tap()
  await page.waitForSelector(`article[data-device="${LASER}"][data-state="ready"]`)
  await toFirstPoint(page, room)
  await ask(page, 'device-practice', { device: LASER, deed: 'rest', mm: HELD })
  await shown(page, 'instruments too')
  const asked = counted(page)
  await ask(page, 'device-practice', { device: LASER, deed: 'press' })
  await page.waitForSelector('[data-point="J1@30"]')
  await shown(page, 'instruments too')
  // Nothing is left over at the instrument either.
  assert.deepEqual((await ask(page, 'devices', {})).waiting, [])
  assert.equal((await ofRoom(page, room)).length, 1)
  assert.ok(asked.length <= 4, asked.join(' '))
  assert.ok(asked.includes('write'))
  assert.deepEqual(page.wrong, [])
})
