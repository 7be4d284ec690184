// The record: tests with their verdicts, what lies behind the surfaces, sheets for each reader, backups.
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { test } from 'node:test'
import { bench, takeBack } from './bench.mjs'
import { answered, ask, openPage, press, put, shown, startHost, visit } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { demo, newRoom } from './rooms.mjs'
import { furnish } from './screens.mjs'

const { begin, on, open } = bench()

const button = (page, name) => page.getByRole('button', { name, exact: true })
/** Keeps the form that is open, and waits until it is kept and shown so. */
const keep = (page, name = 'Keep') => answered(page, 'write', () => button(page, name).tap())

test('a flood test is begun, looked at and judged', async () => {
  const { page, room } = await open('kestrel', 'tests')
  await press(page, button(page, 'Begin a test'))
  await press(page, button(page, 'Flood test'))
  await press(page, button(page, 'Begin'))
  await page.locator('[role="alert"]').waitFor()
  await put(page, page.getByLabel('Place'), 'shower')
  await keep(page, 'Begin')
  await page.locator('[data-test="no-mark"]').waitFor()
  // It is looked at an hour later.
  await page.clock.setFixedTime(Date.now() + 3_600_000)
  await press(page, button(page, 'Look at the water'))
  await put(page, page.getByLabel('The water has dropped'), '1')
  await put(page, page.getByLabel('The open vessel beside it has dropped'), '1/8')
  await keep(page)
  await page.locator('[data-test]:not([data-test="no-mark"])').waitFor()
  const { tests } = await ask(page, 'tests', { room })
  assert.equal(tests[0].entry.what.marks[0].drop, 25.4)
  assert.notEqual(tests[0].cover, 'yes')
  await takeBack(page)
  await page.locator('[data-test="no-mark"]').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('a heat cable is typed by its label and read', async () => {
  const { page } = await open('kestrel', 'tests')
  await press(page, button(page, 'Begin a test'))
  await press(page, button(page, 'Heat cable'))
  await put(page, page.getByLabel('Product'), 'mat')
  await put(page, page.getByLabel('Resistance on the label'), '30')
  await keep(page, 'Begin')
  for (const [stage, ohms] of [
    ['In the box', '30.1'],
    ['Laid', '41'],
  ]) {
    await press(page, button(page, 'Read the cable'))
    await press(page, page.getByRole('radio', { name: stage }))
    await put(page, page.getByLabel('Read on the cable'), ohms)
    await put(page, page.getByLabel('Read to earth'), '900')
    await keep(page)
    await button(page, 'Read the cable').waitFor()
  }
  await page.locator('[data-test="out-of-band"]').waitFor()
  await page.getByText('Not to be covered').waitFor()
})

test('a pipe, a person, a photograph and a signature go on the record', async () => {
  const { page, room } = await open('kestrel', 'behind')
  await press(page, button(page, 'Behind the surface'))
  const plan = page.getByRole('img', { name: 'Plan of the floor' })
  const box = await plan.boundingBox()
  await plan.tap({ position: { x: box.width * 0.3, y: box.height * 0.7 } })
  await page.locator('[data-place="1"]').waitFor()
  await plan.tap({ position: { x: box.width * 0.6, y: box.height * 0.3 } })
  await page.locator('[data-place="2"]').waitFor()
  await put(page, page.getByLabel('From left wall').first(), '10')
  await put(page, page.getByLabel('From door wall').first(), '20')
  await put(page, page.getByLabel('Note'), 'copper')
  await keep(page)
  await page.locator('[data-hidden="water-pipe"]').waitFor()
  await page.getByText('from left wall').first().waitFor()
  const { entries, hidden } = await ask(page, 'entries', { room })
  assert.equal(entries[0].what.places.length, 2)
  assert.deepEqual(hidden[0].places[0].from_walls, [
    { wall: 'left wall', distance: 254 },
    { wall: 'door wall', distance: 508 },
  ])

  await press(page, button(page, 'Person'))
  await put(page, page.getByLabel('Name'), 'R. Example')
  await put(page, page.getByLabel('Role'), 'tile setter')
  await keep(page)
  await page.locator('[data-entry="person"]').waitFor()
  const file = await ask(page, 'room-export', { room })
  const journal = JSON.parse(file.text).journal.map(({ payload }) => payload)
  assert.ok(!journal.some((payload) => payload.includes('R. Example')), 'a name enters the journal as its digest')
  assert.ok(file.text.includes('R. Example'), 'and stands beside it while it is not blacked out')
  assert.ok(!(await ask(page, 'room-export', { room, black_out: true })).text.includes('R. Example'))

  await press(page, button(page, 'Add a photograph'))
  const picture = await page.evaluate(() => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 64, height: 48 })
    canvas.getContext('2d').fillRect(8, 8, 20, 20)
    return canvas.toDataURL('image/jpeg').split(',')[1]
  })
  await put(page, page.getByLabel('Wall or floor it shows'), 'left wall')
  const jpeg = { name: 'wall.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(picture, 'base64') }
  await answered(page, 'photograph-add', () => page.getByLabel('Choose a file').setInputFiles(jpeg))
  await page.locator('[data-photograph] img').waitFor()

  await press(page, button(page, 'Signature'))
  await put(page, page.getByLabel('What is signed for'), 'Framing approved')
  await put(page, page.getByLabel('Name'), 'R. Example')
  await put(page, page.getByLabel('Role'), 'tile setter')
  await page.locator('svg.pad').scrollIntoViewIfNeeded()
  const pad = await page.locator('svg.pad').boundingBox()
  await page.mouse.move(pad.x + 20, pad.y + 60)
  await page.mouse.down()
  await page.mouse.move(pad.x + 80, pad.y + 20, { steps: 4 })
  await page.mouse.up()
  await page.locator('path.ink').waitFor()
  await keep(page, 'Keep the signature')
  await page.locator('[data-entry="sign-off"]').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('layers as built stand beside those planned', async () => {
  const { page, room } = await open('rowan', 'behind')
  const { layers } = await ask(page, 'room', { room })
  const [first] = layers.shower
  await press(page, button(page, 'Layers as built'))
  await press(page, button(page, 'Keep'))
  await page.getByText('Measure one layer at least.').waitFor()
  const laid = page.getByLabel(`${first.name}, as laid`, { exact: true }).first()
  await put(page, laid, `${first.thickness + 12} mm`)
  await keep(page)
  await page.locator('[data-built="shower"] [data-verdict="out"]').waitFor()
  await takeBack(page)
  await page.locator('[data-built]').waitFor({ state: 'detached' })
  assert.deepEqual(page.wrong, [])
})

test('a drawing is looked at and becomes a room', async () => {
  const page = await begin()
  const room = await demo(page)
  for (const kind of ['dxf', 'svg']) {
    const { name, text } = await ask(page, 'drawing', { room, kind })
    await visit(page, '#/')
    await page.getByLabel('Open a room file').setInputFiles({ name, mimeType: 'text/plain', buffer: Buffer.from(text) })
    await page.getByText('28 points').waitFor()
    await page.getByText('Not taken: JOISTS').waitFor()
    await page.getByRole('button', { name: 'Take it in' }).tap()
    await page.waitForSelector('main[data-page="room"]')
  }
  const { rooms } = await ask(page, 'rooms', {})
  assert.equal(rooms.filter(({ id, points }) => id.startsWith('drawing-') && points === 28).length, 2)
  assert.deepEqual(page.wrong, [])
})

test('a table of readings is looked at before it is taken in', async () => {
  const page = await begin()
  const room = await demo(page)
  const { text } = await ask(page, 'drawing', { room, kind: 'csv' })
  const other = await newRoom(page, { name: 'Copy' })
  await visit(page, `#/rooms/${other}/record`)
  const before = (await ask(page, 'history', { room: other })).entries.length
  await page
    .getByLabel('Bring in a CSV file')
    .setInputFiles({ name: 'r.csv', mimeType: 'text/csv', buffer: Buffer.from(text) })
  await page.locator('[data-table]').waitFor()
  assert.equal((await ask(page, 'history', { room: other })).entries.length, before, 'a look changes nothing')
  await page.getByRole('button', { name: 'Take it in' }).tap()
  await page.getByText('28 readings brought in.').waitFor()
})

test('rooms are found by how they stand', async () => {
  const page = await begin()
  for (let k = 0; k < 9; k++) await demo(page)
  await visit(page, '#/')
  await press(page, page.getByText('By verdict or by day'))
  await press(page, page.getByRole('radio', { name: 'out', exact: true }))
  await page.locator('li .verdict.out').first().waitFor()
  await press(page, page.getByRole('radio', { name: 'within', exact: true }))
  await page.getByText('No room fits').waitFor()
  await press(page, page.getByRole('radio', { name: 'any', exact: true }))
  await page.getByText('No room fits').waitFor({ state: 'detached' })
  await put(page, page.getByLabel('Find a room'), 'kestrel')
  await put(page, page.getByLabel('Worked on since'), '2099')
  await page.getByText('No room fits').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('a file that is no photograph is refused with a sentence', async () => {
  const { page } = await open('kestrel', 'behind')
  await press(page, button(page, 'Add a photograph'))
  const text = { name: 'wall.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('J1,44-1/8') }
  await page.getByLabel('Choose a file').setInputFiles(text)
  await page.getByText('Choose a JPEG or a PNG').waitFor()
})

test('a not-ready notice is made, and a record is looked at before it is taken in', async () => {
  const { page, room } = await open('kestrel', 'record/not-ready')
  await page.getByRole('button', { name: 'Make the record' }).tap()
  const save = page.getByRole('link', { name: 'Save the PDF' })
  await save.waitFor()
  const [pdf] = await Promise.all([page.waitForEvent('download'), save.tap()])
  const other = await startHost()
  try {
    const there = await openPage(on.browser, other.address)
    const file = { name: 'room.pdf', mimeType: 'application/pdf', buffer: readFileSync(await pdf.path()) }
    await there.getByLabel('Open a room file').setInputFiles(file)
    await there.getByText('Every entry fits the one before it.').waitFor()
    await there.getByRole('button', { name: 'Take it in' }).tap()
    await there.waitForSelector('main[data-page="room"]')
    assert.equal((await ask(there, 'rooms', {})).rooms[0].id, room)
  } finally {
    await other.stop()
  }
})

test('a backup is saved, opened elsewhere, and what is missing taken in', async () => {
  const page = await begin()
  const { read } = await furnish(page)
  await visit(page, '#/backups')
  const [backup] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a backup' }).tap(),
  ])
  const other = await startHost()
  try {
    const there = await openPage(on.browser, other.address)
    await visit(there, '#/backups')
    const buffer = readFileSync(await backup.path())
    await there.getByLabel('Open a backup').setInputFiles({ name: 'b.truefall', mimeType: 'application/zip', buffer })
    await there.getByRole('button', { name: 'Take in what is missing' }).tap()
    await there.getByText('Rooms taken in').waitFor()
    const { tests } = await ask(there, 'tests', { room: read })
    assert.equal(tests.length, 3)
    await visit(there, `#/rooms/${read}/behind`)
    await there.locator('[data-photograph] img').waitFor()
  } finally {
    await other.stop()
  }
})

for (const [locale, size, scale] of [
  ['en-US', { width: 360, height: 780 }, '100%'],
  ['en-US', { width: 1280, height: 800 }, '100%'],
  ['es', { width: 360, height: 780, colorScheme: 'dark' }, '100%'],
  ['es', { width: 360, height: 780 }, '200%'],
]) {
  test(`every form of the record is large enough and whole: ${locale}, ${size.width}, ${scale}`, async () => {
    const page = await begin({ ...size, locale })
    const { read } = await furnish(page)
    const measured = async () => {
      await page.evaluate((scale) => (document.documentElement.style.fontSize = scale), scale)
      await assertTargets(page)
      await assertFits(page)
      await assertAccessible(page)
    }
    // The first key of Behind is the photograph; the others stand below it, each with a form of its own.
    const many = await openForms(page, read, 'behind')
    for (let k = 0; k < many; k += 1) {
      await openForms(page, read, 'behind')
      await press(page, page.locator('.keys button').nth(k))
      await measured()
    }
    await openForms(page, read, 'tests')
    const kinds = await page.locator('.page button').count()
    assert.ok(many >= 6 && kinds >= 5, `${many} and ${kinds}`)
    for (let k = 0; k < kinds - 1; k += 1) {
      await openForms(page, read, 'tests')
      await press(page, page.locator('.page button').nth(k))
      await measured()
    }
    assert.deepEqual(page.wrong, [])
  })
}

/** The keys that open the forms of a screen, and how many there are. */
async function openForms(page, room, screen) {
  await visit(page, '#/terms')
  await visit(page, `#/rooms/${room}/${screen}`)
  if (screen === 'tests') await press(page, page.locator('.page button.strong').first())
  return page.locator('.keys button').count()
}
