// The record: tests with their verdicts, what lies behind the surfaces, sheets for each reader, backups.
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { after, before, test } from 'node:test'
import { ask, openPage, startBrowser, startHost, visit } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { furnish } from './screens.mjs'

let host, browser
before(async () => {
  host = await startHost()
  browser = await startBrowser()
})
after(async () => {
  await browser.close()
  await host.stop()
})

const demo = async (page) => (await ask(page, 'demo', { name: 'kestrel', id: crypto.randomUUID() })).room

test('a flood test is begun, looked at and judged', async () => {
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  await visit(page, `#/rooms/${room}/tests`)
  await page.getByRole('button', { name: 'Begin a test' }).tap()
  await page.getByRole('button', { name: 'Flood test' }).tap()
  await page.getByRole('button', { name: 'Begin' }).tap()
  await page.locator('[role="alert"]').waitFor()
  await page.getByLabel('Place').fill('shower')
  await page.getByRole('button', { name: 'Begin' }).tap()
  await page.locator('[data-test="no-mark"]').waitFor()
  // It is looked at an hour later.
  await page.clock.setFixedTime(Date.now() + 3_600_000)
  await page.getByRole('button', { name: 'Look at the water' }).tap()
  await page.getByLabel('The water has dropped').fill('1')
  await page.getByLabel('The open vessel beside it has dropped').fill('1/8')
  await page.getByRole('button', { name: 'Keep' }).tap()
  await page.locator('[data-test]:not([data-test="no-mark"])').waitFor()
  const { tests } = await ask(page, 'tests', { room })
  assert.equal(tests[0].entry.what.marks[0].drop, 25.4)
  assert.notEqual(tests[0].cover, 'yes')
  await page.getByRole('button', { name: 'Undo' }).tap()
  await page.locator('[data-test="no-mark"]').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('a heat cable is typed by its label and read', async () => {
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  await visit(page, `#/rooms/${room}/tests`)
  await page.getByRole('button', { name: 'Begin a test' }).tap()
  await page.getByRole('button', { name: 'Heat cable' }).tap()
  await page.getByLabel('Product').fill('mat')
  await page.getByLabel('Resistance on the label').fill('30')
  await page.getByRole('button', { name: 'Begin' }).tap()
  for (const [stage, ohms] of [
    ['In the box', '30.1'],
    ['Laid', '41'],
  ]) {
    await page.getByRole('button', { name: 'Read the cable' }).tap()
    await page.getByRole('radio', { name: stage }).tap()
    await page.getByLabel('Read on the cable').fill(ohms)
    await page.getByLabel('Read to earth').fill('900')
    await page.getByRole('button', { name: 'Keep' }).tap()
    await page.getByRole('button', { name: 'Read the cable' }).waitFor()
  }
  await page.locator('[data-test="out-of-band"]').waitFor()
  await page.getByText('Not to be covered').waitFor()
})

test('a pipe, a person, a photograph and a signature go on the record', async () => {
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  await visit(page, `#/rooms/${room}/behind`)
  await page.getByRole('button', { name: 'Behind the surface' }).tap()
  const plan = page.getByRole('img', { name: 'Plan of the floor' })
  const box = await plan.boundingBox()
  await plan.tap({ position: { x: box.width * 0.3, y: box.height * 0.7 } })
  await page.locator('[data-place="1"]').waitFor()
  await plan.tap({ position: { x: box.width * 0.6, y: box.height * 0.3 } })
  await page.locator('[data-place="2"]').waitFor()
  await page.getByLabel('From left wall').first().fill('10')
  await page.getByLabel('From door wall').first().fill('20')
  await page.getByLabel('Note').fill('copper')
  await page.getByRole('button', { name: 'Keep' }).tap()
  await page.locator('[data-hidden="water-pipe"]').waitFor()
  await page.getByText('from left wall').first().waitFor()
  const { entries, hidden } = await ask(page, 'entries', { room })
  assert.equal(entries[0].what.places.length, 2)
  assert.deepEqual(hidden[0].places[0].from_walls, [
    { wall: 'left wall', distance: 254 },
    { wall: 'door wall', distance: 508 },
  ])

  await page.getByRole('button', { name: 'Person' }).tap()
  await page.getByLabel('Name').fill('R. Example')
  await page.getByLabel('Role').fill('tile setter')
  await page.getByRole('button', { name: 'Keep' }).tap()
  await page.locator('[data-entry="person"]').waitFor()
  const file = await ask(page, 'room-export', { room })
  const journal = JSON.parse(file.text).journal.map(({ payload }) => payload)
  assert.ok(!journal.some((payload) => payload.includes('R. Example')), 'a name enters the journal as its digest')
  assert.ok(file.text.includes('R. Example'), 'and stands beside it while it is not blacked out')
  assert.ok(!(await ask(page, 'room-export', { room, black_out: true })).text.includes('R. Example'))

  await page.getByRole('button', { name: 'Add a photograph' }).tap()
  const picture = await page.evaluate(() => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 64, height: 48 })
    canvas.getContext('2d').fillRect(8, 8, 20, 20)
    return canvas.toDataURL('image/jpeg').split(',')[1]
  })
  await page.getByLabel('Wall or floor it shows').fill('left wall')
  const jpeg = { name: 'wall.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(picture, 'base64') }
  await page.getByLabel('Choose a file').setInputFiles(jpeg)
  await page.locator('[data-photograph] img').waitFor()

  await page.getByRole('button', { name: 'Signature' }).tap()
  await page.getByLabel('What is signed for').fill('Framing approved')
  await page.getByLabel('Name').fill('R. Example')
  await page.getByLabel('Role').fill('tile setter')
  const pad = await page.locator('svg.pad').boundingBox()
  await page.mouse.move(pad.x + 20, pad.y + 60)
  await page.mouse.down()
  await page.mouse.move(pad.x + 80, pad.y + 20, { steps: 4 })
  await page.mouse.up()
  await page.getByRole('button', { name: 'Keep the signature' }).tap()
  await page.locator('[data-entry="sign-off"]').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('layers as built stand beside those planned', async () => {
  const page = await openPage(browser, host.address)
  const { room } = await ask(page, 'demo', { name: 'rowan', id: crypto.randomUUID() })
  const { layers } = await ask(page, 'room', { room })
  const [first] = layers.shower
  await visit(page, `#/rooms/${room}/behind`)
  await page.getByRole('button', { name: 'Layers as built' }).tap()
  await page.getByRole('button', { name: 'Keep' }).tap()
  await page.getByText('Measure one layer at least.').waitFor()
  await page
    .getByLabel(`${first.name}, as laid`, { exact: true })
    .first()
    .fill(`${first.thickness + 12} mm`)
  await page.getByRole('button', { name: 'Keep' }).tap()
  await page.locator('[data-built="shower"] [data-verdict="out"]').waitFor()
  await page.getByRole('button', { name: 'Undo' }).tap()
  await page.locator('[data-built]').waitFor({ state: 'detached' })
  assert.deepEqual(page.wrong, [])
})

test('a drawing is looked at and becomes a room', async () => {
  const page = await openPage(browser, host.address)
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
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  const { text } = await ask(page, 'drawing', { room, kind: 'csv' })
  const other = crypto.randomUUID()
  const payload = JSON.stringify({ name: 'Copy', units: 'in', place: null, created: '2031-04-02T08:00:00Z' })
  await ask(page, 'write', { id: crypto.randomUUID(), room: other, command: 'room-new', payload })
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
  const page = await openPage(browser, host.address)
  for (let k = 0; k < 9; k++) await demo(page)
  await visit(page, '#/')
  await page.getByText('By verdict or by day').tap()
  await page.getByRole('radio', { name: 'out', exact: true }).tap()
  await page.locator('li .verdict.out').first().waitFor()
  await page.getByRole('radio', { name: 'within', exact: true }).tap()
  await page.getByText('No room fits').waitFor()
  await page.getByLabel('Find a room').fill('kestrel')
  await page.getByLabel('Worked on since').fill('2099')
  await page.getByRole('radio', { name: 'any', exact: true }).tap()
  await page.getByText('No room fits').waitFor()
  assert.deepEqual(page.wrong, [])
})

test('a file that is no photograph is refused with a sentence', async () => {
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  await visit(page, `#/rooms/${room}/behind`)
  await page.getByRole('button', { name: 'Add a photograph' }).tap()
  const text = { name: 'wall.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('J1,44-1/8') }
  await page.getByLabel('Choose a file').setInputFiles(text)
  await page.getByText('Choose a JPEG or a PNG').waitFor()
})

test('a not-ready notice is made, and a record is looked at before it is taken in', async () => {
  const page = await openPage(browser, host.address)
  const room = await demo(page)
  await visit(page, `#/rooms/${room}/record/not-ready`)
  await page.getByRole('button', { name: 'Make the record' }).tap()
  const save = page.getByRole('link', { name: 'Save the PDF' })
  await save.waitFor()
  const [pdf] = await Promise.all([page.waitForEvent('download'), save.tap()])
  const other = await startHost()
  try {
    const there = await openPage(browser, other.address)
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
  const page = await openPage(browser, host.address)
  const { read } = await furnish(page)
  await visit(page, '#/backups')
  const [backup] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a backup' }).tap(),
  ])
  const other = await startHost()
  try {
    const there = await openPage(browser, other.address)
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
    const page = await openPage(browser, host.address, { ...size, locale })
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
      await page.locator('.keys button').nth(k).tap()
      await measured()
    }
    await openForms(page, read, 'tests')
    const kinds = await page.locator('.page button').count()
    assert.ok(many >= 6 && kinds >= 5, `${many} and ${kinds}`)
    for (let k = 0; k < kinds - 1; k += 1) {
      await openForms(page, read, 'tests')
      await page.locator('.page button').nth(k).tap()
      await measured()
    }
    assert.deepEqual(page.wrong, [])
  })
}

/** The keys that open the forms of a screen, and how many there are. */
async function openForms(page, room, screen) {
  await visit(page, '#/terms')
  await visit(page, `#/rooms/${room}/${screen}`)
  if (screen === 'tests') await page.locator('.page button.strong').first().tap()
  else await page.locator('.keys button').first().waitFor()
  return page.locator('.keys button').count()
}
