// What is asked while one still kneels there: a number far from its neighbours, what stands in the way, the gauge.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, press, shown, visit, write } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { newRoom } from './rooms.mjs'
import { furnish, halfRead, show, screens } from './screens.mjs'
import { Thumb } from './thumb.mjs'

const { begin } = bench()

async function readingsAt(page, room, id) {
  const { surveys } = await ask(page, 'room', { room })
  return surveys.flatMap(({ points }) => points).find((point) => point.id === id)
}

test('a number no slip explains is asked about with two full-width keys; both answers keep it', async () => {
  const page = await begin()
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}/readings/joists`)
  const point = await page.locator('[data-point]').getAttribute('data-point')
  const thumb = new Thumb(page)
  await thumb.put('47-9/16')
  await shown(page)
  assert.equal(await page.locator('[data-question]').count(), 0, 'half a number is not asked about')
  await thumb.tap('[data-key="next"]')
  await page.waitForSelector('[data-question="far"]')
  assert.match(await page.locator('.beside').innerText(), /lead one to expect 44.*±/s)
  const keys = await page.locator('[data-question] button').all()
  assert.equal(keys.length, 2)
  for (const key of keys) {
    const { width, height } = await key.boundingBox()
    assert.ok(width >= 340 && height >= 72, `${width} × ${height}`)
  }
  await answered(page, 'write', () => thumb.tap('[data-question] button:last-child'))
  assert.equal(await page.locator('[data-point]').getAttribute('data-point'), point, 'the point is asked for again')
  assert.equal((await readingsAt(page, room, point)).reading.entered, '47-9/16')
  await thumb.put('44-9/16')
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((id) => document.querySelector('[data-point]')?.dataset.point !== id, point)
  const { reading } = await readingsAt(page, room, point)
  assert.deepEqual([reading.entered, reading.corrections], ['44-9/16', 1])
  assert.deepEqual(page.wrong, [])
})

test('an ordinary crown keeps next', async () => {
  const page = await begin()
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}/readings/joists`)
  const thumb = new Thumb(page)
  await thumb.put('43-15/16')
  await shown(page)
  assert.match(await page.locator('.beside').innerText(), /above/)
  assert.equal(await page.locator('[data-question]').count(), 0)
  assert.ok(await page.locator('[data-key="next"]').isEnabled())
})

test('a tub on the plan takes the points under it away, and it stays on the plan', async () => {
  const page = await begin()
  const room = await newRoom(page)
  await visit(page, `#/rooms/${room}/plan`)
  await page.getByRole('radio', { name: 'Floor in place' }).tap()
  await page.getByText('25 points to read').waitFor()
  await page.tap('[data-key="add-tub"]')
  await page.getByText('19 points to read').waitFor()
  await page.getByRole('button', { name: 'Keep this plan' }).tap()
  await page.waitForSelector('[data-next]')
  const { plan } = await ask(page, 'room', { room })
  assert.deepEqual([plan.points.length, plan.fixtures.map(({ kind }) => kind)], [19, ['tub']])
  await visit(page, `#/rooms/${room}/plan`)
  await page.waitForSelector('[data-fixture="0"]')
  await page.getByRole('button', { name: 'Take out: Tub' }).tap()
  await page.getByText('25 points to read').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('what the gauges say stands first in the findings; a floor that falls is not offered the bar', async () => {
  const page = await begin()
  const rooms = await furnish(page)
  const all = screens({ ...rooms, half: rooms.fresh, halfMm: rooms.metric })
  const { placements, sd_mm } = await ask(page, 'straightedge-walk', { room: rooms.read })
  for (const { point, to, bar } of placements) {
    const gap = { reading: crypto.randomUUID(), setup: '', point, sense: 'gap', entered: '1/2', value: 12.7 }
    await write(page, rooms.read, 'reading-add', { ...gap, sd_mm, source: 'typed', length: bar, to })
  }
  await show(page, all.findings)
  const count = placements.length
  assert.match(
    await page.locator('#headline').innerText(),
    new RegExp(`^Not flat by the gauge: ${count} of ${count} places`),
  )
  const kinds = await page.locator('button[data-kind]').evaluateAll((all) => all.map((one) => one.dataset.kind))
  assert.equal(kinds[0], 'straightedge-walk')
  assert.ok(await page.getByRole('link', { name: 'Lay the straightedge' }).isVisible())
  await show(page, all['findings-mm'])
  assert.equal(await page.getByRole('link', { name: 'Lay the straightedge' }).count(), 0)
})

test('where another reading tells most stands on the map by its number', async () => {
  const page = await begin()
  const { read, ...rest } = await furnish(page)
  await show(page, screens({ read, ...rest, half: rest.fresh, halfMm: rest.metric }).findings)
  const { places } = await ask(page, 'next-readings', { room: read })
  assert.ok(places.length > 0)
  await page.waitForSelector('[data-next="1"]')
  await shown(page)
  assert.equal(await page.locator('[data-next]').count(), places.length)
})

test('a plan half set out is there again after the phone was dark, until it is kept or started over', async () => {
  const page = await begin()
  const room = await newRoom(page)
  await visit(page, `#/rooms/${room}/plan`)
  await page.getByRole('radio', { name: 'Floor in place' }).tap()
  await page.getByLabel('Along the door wall').fill('120')
  await page.getByText('30 points to read').waitFor()
  await page.reload()
  await page.getByText('30 points to read').waitFor()
  assert.equal((await ask(page, 'room', { room })).plan, null)
  await page.getByRole('button', { name: 'Start over' }).tap()
  await page.getByText('6 joists, 30 points to read').waitFor()
  await page.getByRole('radio', { name: 'Floor in place' }).tap()
  await page.getByText('25 points to read').waitFor()
  await page.getByRole('button', { name: 'Keep', exact: true }).tap()
  await page.waitForSelector('[data-next]')
  await visit(page, `#/rooms/${room}/plan`)
  await page.getByText('25 points to read').waitFor()
  assert.equal(await page.getByRole('button', { name: 'Start over' }).count(), 0)
  assert.deepEqual(page.wrong, [])
})

test('what was done before the readings is not taken back among them', async () => {
  const page = await begin()
  const { fresh } = await furnish(page)
  await visit(page, `#/rooms/${fresh}/readings`)
  await press(page, page.locator('form button[type="submit"]'))
  await page.waitForSelector('[data-stage="opening"]')
  assert.ok(await page.locator('[data-key="undo"]').isDisabled())
})

test('an answer about the framing takes its photograph, and the last question counts them all', async () => {
  const page = await begin()
  const { fresh } = await furnish(page)
  await visit(page, `#/rooms/${fresh}/structure`)
  const cut = page.locator('[data-question="cut"]')
  await cut.waitFor()
  assert.equal(await page.locator('[data-pictures]').count(), 0, 'what was not looked at has no picture')
  await cut.getByRole('radio', { name: 'Not sound', exact: true }).tap()
  await cut.locator('[data-pictures="0"]').waitFor()
  const picture = await page.evaluate(() => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 64, height: 48 })
    canvas.getContext('2d').fillRect(8, 8, 32, 32)
    return canvas.toDataURL('image/jpeg').split(',')[1]
  })
  const jpeg = { name: 'notch.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(picture, 'base64') }
  await cut.getByLabel('Photograph').setInputFiles(jpeg)
  await cut.locator('[data-pictures="1"]').waitFor()
  const { entries } = await ask(page, 'entries', { room: fresh })
  assert.deepEqual(
    entries.map(({ what }) => [what.kind, what.wall, what.name]),
    [['photograph', 'framing: cuts and splits', 'notch.jpg']],
  )
  await page.locator('[data-question="photograph"]').getByRole('radio', { name: 'Done', exact: true }).tap()
  await page.locator('[data-question="photograph"] [data-pictures="1"]').waitFor()
  assert.equal(await page.locator('[data-question="rot"] [data-pictures]').count(), 0)
  await assertTargets(page)
  await assertAccessible(page)
  await assertFits(page)
  assert.deepEqual(page.wrong, [])
})
