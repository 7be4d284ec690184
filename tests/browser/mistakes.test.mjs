// What tired hands do wrong: a length half typed, in another unit, a key pressed at once and twice.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, keep, works } from './bench.mjs'
import { crewPage, join, openRooms } from './crew.mjs'
import { said } from './demo.mjs'
import { answered, ask, inches, press as pressed, put, shown, visit } from './host.mjs'

const { open, unread } = bench()

const field = (page, name) => page.getByRole('textbox', { name, exact: true })
const press = (page, name) => pressed(page, page.getByRole('button', { name, exact: true }))
/** Until the figures of the cut that is wanted stand in the form. */
const filled = (page) =>
  page.waitForFunction(() => [...document.querySelectorAll('.three input')].filter((input) => input.value).length === 3)

/** The journal's newest record of the room: another one, once anything was kept. */
const head = async (page, room) => (await ask(page, 'room', { room })).head

test('nothing is kept while a length is half typed: the field is named, and put right it is kept as it stands', async () => {
  const { page, room } = await open('kestrel', 'ledges')
  await press(page, 'bench')
  const [back, front] = [page.getByLabel('Back, down from the line'), page.getByLabel('Front, down from the line')]
  await put(page, back, '17')
  await put(page, front, '17-1/4')
  assert.match(await said(page.locator('[data-ledge]')), /1:/)
  await put(page, front, '17-3')
  await page.waitForSelector('[data-unread]')
  const before = await head(page, room)
  await press(page, 'Keep this')
  assert.match(await said(alert(page)), /Front, down from the line.*nothing was kept.*Put that field right/)
  assert.equal(await head(page, room), before)
  assert.equal(await front.inputValue(), '17-3', 'what was typed stands')
  assert.ok(await front.evaluate((field) => field === document.activeElement), 'and the field has the focus')
  await front.fill('17-3/4')
  await answered(page, 'write', () => page.getByRole('button', { name: 'Keep this' }).tap())
  await page.getByRole('button', { name: 'Keep this' }).waitFor({ state: 'detached' })
  const [{ front: kept }] = (await works(page, room)).ledges
  assert.equal(kept, inches(17.75), 'pressed at once, the key waited for the length')
  assert.deepEqual(
    page.wrong.filter((said) => !said.includes('422')),
    [],
  )
})

test('an optional length that was not understood is not left out of what is kept', async () => {
  const { page, room } = await open('kestrel', 'behind')
  await press(page, 'Behind the surface')
  await press(page, 'Add a place')
  await page.getByLabel('Below the finished surface').fill('44-3')
  const before = await head(page, room)
  await pressed(page, page.locator('main button.strong'))
  assert.match(await said(page.locator('main p[role="alert"]')), /is not right yet/)
  assert.equal(await head(page, room), before)
})

test('a plan in another unit is drawn as far as it goes and named, and the page lives on, also when it is loaded again', async () => {
  const { page } = await unread('plan')
  const width = page.getByRole('textbox', { name: 'Along the door wall' })
  await width.fill('999999999')
  await page.getByText(/Nothing on a site is longer than .*another unit/).waitFor()
  await width.fill('3900')
  await page.getByRole('alert').getByText('was one typed in another unit?').waitFor()
  assert.ok(await page.getByRole('button', { name: 'Keep this plan' }).isDisabled())
  await page.reload()
  await page.getByRole('alert').getByText('was one typed in another unit?').waitFor()
  await page.getByRole('textbox', { name: 'Along the door wall' }).fill('112')
  await page.getByRole('alert').getByText('was one typed in another unit?').waitFor({ state: 'detached' })
})

test('a corner in another unit is named, and the page lives on', async () => {
  const { page } = await open('banksia', 'plan')
  await pressed(page, page.getByRole('radio', { name: 'Drawn' }))
  const corner = page.locator('[data-corner="1"] input').first()
  await corner.fill('99000')
  await page.getByRole('alert').getByText('was one typed in another unit?').waitFor()
  await put(page, corner, '999999999')
  await page.getByText('Nothing on a site is longer than 100000 mm').waitFor()
  assert.ok((await page.locator('[data-drawing] .grid').count()) < 500)
})

test('an approval without its figures says which are missing, and keeps what was typed', async () => {
  const { page } = await open('kestrel', 'approvals/J4')
  await filled(page)
  await put(page, page.getByLabel('Deep at most'), '')
  await put(page, page.getByLabel('Given by'), 'R. Example, engineer')
  await press(page, 'Record it')
  const missing = await said(page.locator('p.missing'))
  assert.match(missing, /Still missing: .*Deep at most.*Reference/)
  assert.doesNotMatch(missing, /Given by/)
  assert.equal(await page.getByLabel('Given by').inputValue(), 'R. Example, engineer')
})

test('a thousand with a comma is asked for again, and not taken for one', async () => {
  const { page, room } = await open('banksia', 'tiles')
  await press(page, 'Start with a floor and a wall')
  const waste = page.getByLabel('For waste')
  await put(page, waste, '12')
  await put(page, waste, '1,200')
  await page.getByText('Write it like 1500 or 1.5.').waitFor()
  const before = await head(page, room)
  await press(page, 'Keep this')
  await page.getByText('“For waste” is not right yet').waitFor()
  assert.equal(await head(page, room), before)
})

test('an approval given on no day of the calendar is not recorded', async () => {
  const { page, room } = await open('kestrel', 'approvals/J4')
  await filled(page)
  await put(page, page.getByLabel('Given by'), 'R. Example, engineer')
  await put(page, page.getByLabel('Reference'), 'letter 1')
  await put(page, page.getByLabel('On', { exact: true }), '2026-02-30')
  const before = await head(page, room)
  await press(page, 'Record it')
  await page.getByText('“On” is not right yet').waitFor()
  await page.getByText('Write it like 2026-03-02').waitFor()
  assert.equal(await head(page, room), before)
})

test('a form that is begun names the field that is empty, and the one that is no number', async () => {
  const { page } = await open('kestrel', 'tests')
  await press(page, 'Begin a test')
  await press(page, 'Membrane cure')
  await press(page, 'Begin')
  assert.match(await said(page.locator('p.missing')), /^Product: nothing is entered/)
  await put(page, page.getByLabel('Product'), 'liquid membrane')
  await put(page, page.getByLabel('Hours'), '1,200')
  await press(page, 'Begin')
  assert.match(await said(page.locator('p.missing')), /^Hours: this is not a number/)
  assert.equal(await page.getByLabel('Product').inputValue(), 'liquid membrane')
})

test('what was tried out and not kept is there again when one comes back, and is kept or dropped then', async () => {
  const { page, room } = await open('kestrel', 'ledges')
  const front = page.getByLabel('Front, down from the line')
  await press(page, 'bench')
  await put(page, page.getByLabel('Back, down from the line'), '17')
  await put(page, front, '17-1/4')
  assert.match(await said(page.locator('[data-ledge]')), /falls/)
  await page.locator('header a').first().tap()
  await page.waitForSelector('main[data-page="room"]')
  await shown(page)
  await page.goBack()
  await page.getByText('This is as you left it and not kept yet.').waitFor()
  await shown(page)
  assert.equal(await front.inputValue(), '17-1/4')
  await keep(page)
  assert.equal((await works(page, room)).ledges.length, 1)
})

test('a form that was left half filled in is as it was, and empty once it was left on purpose', async () => {
  const { page } = await open('kestrel', 'behind')
  const begin = () => press(page, 'Note')
  const note = field(page, 'Note')
  await begin()
  await put(page, note, 'valve at 48')
  await page.goBack()
  await note.waitFor({ state: 'detached' })
  await page.goForward()
  await shown(page)
  await begin()
  assert.equal(await note.inputValue(), 'valve at 48')
  await pressed(page, page.locator('main form button.bare'))
  await begin()
  assert.equal(await note.inputValue(), '')
})

test('the name of a new room is there again when one comes back, and gone once the room is made', async () => {
  const { page } = await open('kestrel')
  await visit(page, '#/new')
  const name = page.getByLabel('Name', { exact: true })
  await put(page, name, 'Half typed bath')
  await page.goBack()
  await name.waitFor({ state: 'detached' })
  await visit(page, '#/new')
  assert.equal(await name.inputValue(), 'Half typed bath')
  await page.getByRole('button', { name: 'Go on to the plan' }).tap()
  await page.waitForSelector('main[data-page="plan"]')
  await visit(page, '#/new')
  assert.equal(await name.inputValue(), '')
})

test('a second room of one name is told before it is made', async () => {
  const { page } = await open('kestrel')
  await visit(page, '#/new')
  const name = page.getByLabel('Name', { exact: true })
  await name.fill('kestrel lane hall bath ')
  await page.getByText('There is a room of this name already.').waitFor()
  await name.fill('Kestrel Lane hall bath, upstairs')
  await page.getByText('There is a room of this name already.').waitFor({ state: 'detached' })
})

test('no height is built to while a field of the door is not right', async () => {
  const { page, room } = await open('kestrel', 'height')
  await pressed(page, page.locator('[data-part="at-the-door"] summary'))
  await page.getByLabel('Hall’s finished floor').fill('3/')
  await page.waitForSelector('[data-unread]')
  const before = await head(page, room)
  await pressed(page, page.locator('[data-alternative="level-sister-high"]'))
  await press(page, 'Build to this height')
  await page.getByText('“Hall’s finished floor” is not right yet').waitFor()
  assert.equal(await head(page, room), before)
})

test('an absurd figure is refused where it was typed, with both bounds, and stays to be put right', async () => {
  const { page, room } = await open('kestrel', 'rules')
  const rule = page.locator('li', { hasText: 'Closing error of a set-up' })
  await pressed(page, rule.locator('button').first())
  await put(page, rule.locator('input'), '48')
  const before = await head(page, room)
  await pressed(page, rule.getByRole('button', { name: 'Keep', exact: true }))
  await rule.getByText(/Closing error of a set-up” must be from 0 to 31.75 mm \(1.25 in\)/).waitFor()
  assert.equal(await head(page, room), before)
  assert.equal(await rule.locator('input').inputValue(), '48')
  await put(page, rule.locator('input'), '3/32')
  await rule.getByRole('button', { name: 'Keep', exact: true }).tap()
  await rule.locator('input').waitFor({ state: 'detached' })
})

test('an absurd plain number is refused by the label of its field', async () => {
  const { page, room } = await open('banksia', 'tiles')
  await press(page, 'Start with a floor and a wall')
  await put(page, page.getByLabel('For waste'), '1200')
  const refusal = page.getByText('“For waste” must be from 0 to 100 per cent.')
  assert.equal(await refusal.count(), 1)
  const before = await head(page, room)
  await answered(page, 'write', () => page.getByRole('button', { name: 'Keep this' }).tap())
  assert.equal(await refusal.count(), 2)
  assert.equal(await head(page, room), before)
})

test('a note that is on the record already is told before it is kept again, and a double tap keeps one', async () => {
  const { page, room } = await open('kestrel', 'behind')
  const notes = async () => (await ask(page, 'entries', { room })).entries.filter(({ what }) => what.kind === 'note')
  const before = (await notes()).length
  await press(page, 'Note')
  await put(page, field(page, 'Note'), 'Valve at 48')
  await page.locator('main form button.strong').dblclick()
  await page.locator('main form').waitFor({ state: 'detached' })
  await shown(page)
  assert.equal((await notes()).length, before + 1)
  await press(page, 'Note')
  await field(page, 'Note').fill('valve at 48 ')
  await page.getByText('This is on the record already, word for word.').waitFor()
  await field(page, 'Note').fill('valve at 49')
  await page.getByText('This is on the record already').waitFor({ state: 'detached' })
})

test('boxes beside one another line up while one of them names an error', async () => {
  const { page } = await open('kestrel', 'ledges')
  await press(page, 'bench')
  await put(page, page.getByLabel('Front, down from the line'), '17-3')
  await page.waitForSelector('[data-unread]')
  const tops = await page
    .locator('.abreast input')
    .evaluateAll((all) =>
      all.map((input) => [
        input.closest('.abreast') && input.getBoundingClientRect().top,
        input.labels[0].textContent.trim(),
      ]),
    )
  const at = (name) => tops.find(([, label]) => label.startsWith(name))[0]
  assert.ok(Math.abs(at('Back') - at('Front')) < 1, JSON.stringify(tops))
})

test('half a code is no guess, no name is asked for, and who has joined is told so', async (context) => {
  const site = await openRooms()
  context.after(() => site.stop())
  const { open: door } = await ask(site.home, 'crew-draw', { role: 'write' })
  const phone = await crewPage(site.browser, site.address)
  await phone.waitForSelector('main[data-page="join"]')
  const code = phone.getByLabel('Code')
  // Five wrong ones would shut the door.
  for (const half of ['', ...[1, 3, 5, 6, 7].map((letters) => door.code.code.slice(0, letters))]) {
    await code.fill(half)
    await press(phone, 'Join')
    await phone.getByText(`A code has 8 letters and digits; these are ${half.length}.`).waitFor()
  }
  await code.fill('AAAA AAAA')
  await press(phone, 'Join')
  await phone.getByText('Type what you are called.').waitFor()
  await phone.getByLabel('Your name').fill('Ana')
  await press(phone, 'Join')
  await phone.getByText('That is not the code.').waitFor()
  await code.fill(` ${door.code.code.slice(0, 4)}-${door.code.code.slice(4)} `.toLowerCase())
  await press(phone, 'Join')
  await phone.locator('[data-sign]', { hasText: 'Ana' }).waitFor()
  await phone.waitForSelector('main[data-page="rooms"]')
  const twin = await join(site, 'Ana')
  await twin.locator('[data-sign]', { hasText: 'Ana 2' }).waitFor()
  await visit(phone, `#/join/${door.code.code}/${door.fingerprint}`)
  await phone.getByText('This device has joined already, as Ana.').waitFor()
  await phone.getByRole('link', { name: 'To the rooms' }).tap()
  await phone.waitForSelector('main[data-page="rooms"]')
  assert.deepEqual([...phone.wrong, ...twin.wrong], [])
})

test('a code that was used up lets nobody in, and says where a new one is from', async (context) => {
  const site = await openRooms()
  context.after(() => site.stop())
  const { open: door } = await ask(site.home, 'crew-draw', { role: 'write' })
  const link = `${site.address}/#/join/${door.code.code}/${door.fingerprint}`
  const [one, two] = [await crewPage(site.browser, link), await crewPage(site.browser, link)]
  await one.getByLabel('Your name').fill('Ana')
  await one.getByRole('button', { name: 'Join', exact: true }).dblclick()
  await one.locator('[data-sign]', { hasText: /^\s*Ana\s*$/ }).waitFor()
  await two.getByLabel('Your name').fill('Ben')
  await press(two, 'Join')
  await two.getByText('This code was used, or is too old. Ask at home for a new one.').waitFor()
  assert.equal(await two.getByLabel('Your name').inputValue(), 'Ben')
  const { members } = await ask(site.home, 'crew', {})
  assert.deepEqual(
    members.filter(({ role }) => role !== 'home').map(({ name }) => name),
    ['Ana'],
    'tapped twice, joined once',
  )
})

const LASER = 'practice-laser'

test('an instrument is connected once by a double tap, told of out of range, and not looked for on another screen', async () => {
  const { page } = await open('kestrel')
  await visit(page, '#/devices')
  const card = page.locator(`article[data-device="${LASER}"]`)
  await card.locator('[data-key="use"]').dblclick()
  await page.waitForSelector(`article[data-device="${LASER}"][data-state="ready"]`)
  await press(page, 'Carry it away')
  await card.getByText('Bring it nearer and see that it is switched on').waitFor()
  await card.locator('[data-key="put-away"]').tap()
  await card.getByText('not in use').waitFor()
  await page.locator('[data-key="look"]').tap()
  await page.waitForFunction(() => document.querySelector('[data-key="look"]').textContent.includes('Stop'))
  await visit(page, '#/settings')
  await page.waitForFunction(async () => {
    const answer = await fetch('/dispatch/devices', { method: 'POST', body: '{}' })
    return (await answer.json()).looking === false
  })
})

test('one mistyped number does not end a lesson, and an accuracy that is none is named', async () => {
  const { page } = await open('kestrel')
  const key = (name) => page.locator(`[data-key="${name}"]`)
  await visit(page, '#/devices')
  const card = page.locator(`article[data-device="${LASER}"]`)
  await card.waitFor()
  if (await card.locator('[data-key="put-away"]').count()) await card.locator('[data-key="put-away"]').tap()
  await card.locator('[data-key="teach"]').tap()
  await page.getByLabel('Accuracy').fill('')
  await key('begin').tap()
  await page.getByText('This is not a number.').waitFor()
  await page.getByLabel('Accuracy').fill('1000000')
  await key('begin').tap()
  await page.getByText('“Accuracy on its data sheet, ±” must be from 0 to 100.').waitFor()
  await page.getByLabel('Accuracy').fill('1')
  await key('begin').tap()
  await page.waitForSelector('[data-lesson="playing"]')
  const measured = async (mm) => {
    await ask(page, 'device-practice', { device: LASER, deed: 'rest', mm })
    await key('press').tap()
    await page.locator('.hands b', { hasText: new RegExp(`^${Math.floor(mm / 10)}\\d\\.\\d mm$`) }).waitFor()
  }
  for (let k = 0; k < 5; k += 1) await measured(405 + 330 * k)
  await key('played').tap()
  await page.waitForSelector('[data-lesson="showing"]')
  await measured(1234)
  await page.locator('form input').fill('12 ft')
  await key('shown').tap()
  await page.getByText('Type the number as the display shows it, without its unit').waitFor()
  await page.locator('form input').fill('9')
  await key('shown').tap()
  await page.getByText('That fits nothing that it sent. Look at its display once more').waitFor()
  assert.equal(await page.locator('[data-lesson]').getAttribute('data-lesson'), 'showing')
  await key('stop').tap()
})

test('what a form lacks is marked at its field until it is there', async () => {
  const { page } = await open('kestrel', 'tests')
  await press(page, 'Begin a test')
  await press(page, 'Membrane cure')
  await press(page, 'Begin')
  const product = page.getByLabel('Product')
  await page.waitForFunction(() => document.querySelector('main form input').getAttribute('aria-invalid') === 'true')
  await put(page, product, 'liquid membrane')
  await page.locator('p.missing').waitFor({ state: 'detached' })
  assert.equal(await product.getAttribute('aria-invalid'), null)
})
