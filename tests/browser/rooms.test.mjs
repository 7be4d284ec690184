// A room from its name to its record, on the screens alone.
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { test } from 'node:test'
import { bench, takeBack } from './bench.mjs'
import { answered, ask, go, inches, press, put, shown, visit, write } from './host.mjs'
import { said } from './demo.mjs'
import { newRoom } from './rooms.mjs'

const { begin, open, unread } = bench()

/** The id of the room that the page is in. */
function roomOf(page) {
  return decodeURIComponent(new URL(page.url()).hash.split('/')[2])
}

test('a room is named, set out, looked at, and then asks for the level', async () => {
  const page = await begin()
  await page.getByRole('link', { name: 'New room' }).tap()
  const toPlan = page.getByRole('button', { name: 'Go on to the plan' })
  await press(page, toPlan)
  assert.match(await page.locator('.wrong').textContent(), /needs a name/)
  await put(page, page.getByLabel('Name'), 'Fern Street bath')
  await put(page, page.getByLabel('Where it is'), 'Fern Street')
  await answered(page, 'write', () => toPlan.tap())

  await page.waitForSelector('main[data-page="plan"] form')
  await put(page, page.getByRole('textbox', { name: 'Along the door wall' }), `9' 4`)
  await put(page, page.getByLabel('Distances'), '0 30 60 90')
  assert.match(await said(page.locator('.picture p')), /^7 joists, 28 points/)
  await put(page, page.getByLabel('May rise by'), '3/8')
  await answered(page, 'write', () => page.getByRole('button', { name: 'Keep this plan' }).tap())

  await page.waitForSelector('[data-next="structure"]')
  const room = roomOf(page)
  const kept = (await ask(page, 'room', { room })).plan
  assert.equal(kept.outline[1][0], inches(112))
  assert.deepEqual(
    kept.points.slice(0, 5).map(({ id }) => id),
    ['J1@0', 'J1@30', 'J1@60', 'J1@90', 'J2@90'],
  )
  assert.ok(Math.abs(kept.doorway.budget - 9.525) < 1e-9)

  await page.locator('[data-next]').tap()
  const questions = page.locator('ol > li')
  await questions.first().waitFor()
  await shown(page)
  for (const question of await questions.all()) await question.getByRole('radio', { name: 'Not looked at' }).tap()
  await page.waitForFunction(() => /^(\d+) of \1$/.test(document.querySelector('header .side')?.textContent ?? ''))
  const { gate } = await ask(page, 'room', { room })
  assert.deepEqual(new Set(gate.map(({ answer }) => answer?.answer)), new Set(['not-looked-at']))
  await page.getByRole('link', { name: 'Go on to the readings' }).tap()
  await page.getByRole('button', { name: 'Read the mark' }).waitFor()
  assert.deepEqual(page.wrong, [])
})

test('a length that cannot be read is said below its field', async () => {
  const page = await begin()
  const room = await newRoom(page)
  await visit(page, `#/rooms/${room}/plan`)
  await page.getByRole('textbox', { name: 'Along the door wall' }).fill('8 ft 14')
  await page.locator('.wrong').waitFor()
  assert.match(await page.locator('.wrong').textContent(), /less than 12/)
  await page.getByRole('textbox', { name: 'Along the door wall' }).fill('8 ft 2')
  await page.waitForFunction(() => !document.querySelector('.wrong'))
})

test('a joist that is not sound is one tap, and the rest another', async () => {
  const { page, room } = await unread('structure')
  const cut = page.locator('li[data-question="cut"]')
  const answers = async () => {
    const { gate } = await ask(page, 'room', { room })
    const { answer, joists } = gate.find(({ question }) => question === 'cut')
    return [answer?.answer ?? null, joists.map(({ subject, answer }) => `${subject} ${answer}`)]
  }
  const pressed = async () => {
    const keys = await cut.getByRole('button', { pressed: true }).all()
    return Promise.all(keys.map((key) => key.textContent()))
  }
  const key = (name) => cut.getByRole('button', { name, exact: true })
  const answer = async (locator) => answered(page, 'write', () => locator.tap())
  await answer(key('J6'))
  assert.deepEqual(await answers(), [null, ['J6 unsound']])
  assert.deepEqual(await pressed(), ['J6'])
  await answer(cut.getByRole('radio', { name: 'Sound', exact: true }))
  assert.deepEqual(await answers(), ['sound', ['J6 unsound']])
  assert.deepEqual(await pressed(), ['J6'], 'the others are sound')

  await answer(cut.getByRole('radio', { name: 'Not sound', exact: true }))
  assert.equal((await pressed()).length, 7, 'not sound counts for every joist')
  await answer(key('J2'))
  assert.ok(!(await pressed()).includes('J2'))
  assert.deepEqual(await answers(), ['unsound', ['J2 sound', 'J6 unsound']])
  await takeBack(page)
  assert.ok((await pressed()).includes('J2'))
  assert.deepEqual(page.wrong, [])
})

test('what was said of one joist decides its work, not that of the others', async () => {
  const { page, room } = await open('kestrel', 'structure')
  const sistered = async () => {
    const { alternatives, best } = await ask(page, 'height', { room })
    const { joists } = alternatives.find(({ name }) => name === best)
    return joists.filter(({ action }) => action === 'sister').map(({ id }) => id)
  }
  assert.deepEqual(await sistered(), ['J6'])
  const rot = page.locator('li[data-question="rot"]')
  await answered(page, 'write', () => rot.getByRole('button', { name: 'J2', exact: true }).tap())
  await rot.getByRole('button', { name: 'J2', exact: true, pressed: true }).waitFor()
  assert.deepEqual(await sistered(), ['J2', 'J6'])
})

test('a rule is changed, shown as set by the user, and taken back', async () => {
  const { page, room } = await open('kestrel', 'rules')
  const rule = page.locator('li', { hasText: 'Closing error of a set-up' })
  assert.match(await said(rule), /Closing error of a set-up common practice 1\/16 in/)
  await press(page, rule.getByRole('button').first())
  await put(page, rule.getByLabel('Change'), '1/8')
  await answered(page, 'write', () => rule.getByRole('button', { name: 'Keep' }).tap())
  assert.match(await said(rule), /set by you .*1\/8 in/)
  const { rules } = await ask(page, 'rules', { room })
  assert.equal(rules[0].value, 3.175)
  await press(page, rule.getByRole('button').first())
  await answered(page, 'write', () => rule.getByRole('button', { name: /Back to/ }).tap())
  assert.match(await said(rule), /1\/16 in/)
  assert.deepEqual(page.wrong, [])
})

test('a way of judging and a tile are one tap each', async () => {
  const { page, room } = await open('kestrel', 'rules')
  await page.getByRole('radio', { name: /^Simple/ }).tap()
  await page.getByRole('radio', { name: '24 in' }).tap()
  await page.locator('label.on', { hasText: 'Simple' }).waitFor()
  await page.locator('label.on', { hasText: '24 in' }).waitFor()
  const { decision, tile } = await ask(page, 'rules', { room })
  assert.equal(decision, 'simple')
  assert.equal(tile.longest_edge, inches(24))
})

test('the record is made and saved, the room file is saved and opens as a second room', async () => {
  const { page, room } = await open('kestrel', 'record')
  await page.getByRole('button', { name: 'Make the record' }).tap()
  const save = page.getByRole('link', { name: 'Save the PDF' })
  await save.waitFor()
  const [pdf] = await Promise.all([page.waitForEvent('download'), save.tap()])
  assert.match(pdf.suggestedFilename(), /\.pdf$/)
  assert.equal(
    readFileSync(await pdf.path())
      .subarray(0, 5)
      .toString(),
    '%PDF-',
  )

  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the room file' }).tap(),
  ])
  assert.equal(JSON.parse(readFileSync(await file.path(), 'utf8')).room.name, 'Kestrel Lane hall bath')
  await write(page, room, 'room-rename', { name: 'Hall bath, later' })
  await visit(page, '#/')
  await page.getByLabel('Open a room file').setInputFiles(await file.path())
  await page.getByRole('button', { name: 'Keep the file as a second room' }).tap()
  await page.waitForSelector('main[data-page="room"]')
  assert.notEqual(roomOf(page), room)
})

test('a room that is put away leaves the list and comes back', async () => {
  const page = await begin()
  const room = await newRoom(page, { name: 'Cellar bath' })
  await visit(page, `#/rooms/${room}`)
  await answered(page, 'write', () => page.getByRole('button', { name: 'Put this room away' }).tap())
  await page.getByRole('button', { name: 'Take this room out again' }).waitFor()
  await visit(page, '#/')
  const away = page.getByText(/^Put away/)
  await away.waitFor()
  assert.equal(await page.getByRole('link', { name: /Cellar bath/ }).count(), 0, 'folded away')
  await away.tap()
  await page.getByRole('link', { name: /Cellar bath/ }).tap()
  await answered(page, 'write', () => page.getByRole('button', { name: 'Take this room out again' }).tap())
  await page.getByRole('button', { name: 'Put this room away' }).waitFor()
  const { rooms } = await ask(page, 'rooms', {})
  assert.equal(rooms.find(({ id }) => id === room).archived, false)
})

test('light and dark follow the device until one is chosen', async () => {
  const page = await begin({ colorScheme: 'dark' })
  await page.waitForSelector('html[data-theme="dark"]')
  await page.emulateMedia({ colorScheme: 'light' })
  await page.waitForSelector('html[data-theme="light"]')
  await visit(page, '#/settings')
  await page.getByRole('radio', { name: 'Dark' }).tap()
  await page.waitForSelector('html[data-theme="dark"]')
  await page.reload()
  await page.waitForSelector('html[data-theme="dark"]')
})

test('a change made elsewhere is shown here', async () => {
  const page = await begin()
  const other = await begin()
  const room = await newRoom(page, { name: 'Porch bath' })
  await visit(other, `#/rooms/${room}`)
  await other.getByRole('heading', { name: 'Porch bath' }).waitFor()
  await write(page, room, 'room-rename', { name: 'Porch shower' })
  await other.getByRole('heading', { name: 'Porch shower' }).waitFor()
})

test('a screen whose question fails says so and asks again', async () => {
  const page = await begin()
  await page.route('**/dispatch/rooms', (route) => route.abort())
  await visit(page, '#/settings')
  await go(page, '#/')
  await page.locator('[role="alert"]').waitFor()
  await page.unroute('**/dispatch/rooms')
  await page.getByRole('button', { name: 'Try again' }).tap()
  await page.getByRole('link', { name: 'New room' }).waitFor()
  await shown(page)
  assert.equal(await page.locator('[role="alert"]').count(), 0)
})
