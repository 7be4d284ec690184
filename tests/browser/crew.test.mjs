// Several devices at the same rooms, over the real host: who may come in, what each sees, and what becomes of what was
// entered while the link was cut.
import assert from 'node:assert/strict'
import { after, afterEach, before, test } from 'node:test'
import { certificate, crewPage, join, openRooms } from './crew.mjs'
import { answered, ask, newPage, openPage, press, shown, startBrowser, startHost, visit, write } from './host.mjs'
import { plan } from './kestrel.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { halfRead } from './screens.mjs'
import { Thumb } from './thumb.mjs'

let site
before(async () => {
  site = await openRooms()
})
after(() => site?.stop())
// A page that nobody looks at any more takes its part of the processor all the same.
afterEach(() => {
  const others = site.browser.contexts().filter((context) => context !== site.home.context())
  return Promise.all(others.map((context) => context.close()))
})

const point = (page) => page.locator('[data-point]').getAttribute('data-point')
const elsewhere = (page, from) =>
  page.waitForFunction((from) => document.querySelector('[data-point]')?.dataset.point !== from, from)
const readings = async (room) => JSON.parse((await ask(site.home, 'room-export', { room })).text).readings

/** A page at the pad of a room. */
async function atPad(page, room) {
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  return new Thumb(page)
}

/** Enters one reading at the point that is open; answers which. */
async function enter(page, thumb, text) {
  const at = await point(page)
  await thumb.put(text)
  await thumb.tap('[data-key="next"]')
  await elsewhere(page, at)
  return at
}

/** Until the host has a reading of each of these points. */
async function kept(room, points) {
  await site.home.waitForFunction(
    async ([room, points]) => {
      const answer = await fetch('/dispatch/room', { method: 'POST', body: JSON.stringify({ room }) })
      const { surveys } = await answer.json()
      const read = surveys.flatMap((survey) => survey.points).filter((point) => point.reading)
      return points.every((id) => read.some((point) => point.id === id))
    },
    [room, points],
  )
}

test('the rooms are opened on the screen, a phone joins by its code, and all see that they are open', async (context) => {
  const [host, browser] = [await startHost(), await startBrowser()]
  context.after(() => Promise.all([browser.close(), host.stop()]))
  const home = await openPage(browser, host.address)
  assert.equal(await home.locator('[data-sign]').count(), 0, 'nothing is open that nobody opened')
  await visit(home, '#/settings')
  await home.getByRole('link', { name: /Crew/ }).tap()
  await home.locator('[data-key="open"]').waitFor()
  const chosen = home.getByRole('checkbox', { checked: true })
  while ((await chosen.count()) > 0) await press(home, chosen.first())
  assert.equal(await home.locator('[data-key="open"]').isDisabled(), true, 'nowhere is no place to open at')
  await press(home, home.getByRole('checkbox', { name: 'this machine alone' }))
  await home.locator('[data-key="open"]').tap()
  await home.getByRole('img', { name: /to be scanned/ }).waitFor()
  const address = await home.locator('.address').textContent()
  const { fingerprint, pin } = await certificate(address)
  const shown = (await home.locator('.notice .print').textContent()).replaceAll(' ', '').toLowerCase()
  assert.equal(shown, fingerprint, 'the screen shows the certificate that the door shows')
  const trusting = await startBrowser([`--ignore-certificate-errors-spki-list=${pin}`])
  context.after(() => trusting.close())
  const code = await home.locator('[data-code]').getAttribute('data-code')
  const phone = await crewPage(trusting, address)
  await phone.waitForSelector('main[data-page="join"]')
  await phone.getByLabel('Code').fill(`${code.slice(0, 4)} ${code.slice(4)}`.toLowerCase())
  await phone.getByLabel('Your name').fill('Ana')
  await phone.getByRole('button', { name: 'Join', exact: true }).tap()
  await phone.locator('[data-sign]', { hasText: 'Ana' }).waitFor()
  await home.locator('[data-sign]', { hasText: 'one here' }).waitFor()
  await home.locator('[data-member="Ana"][data-here="true"]').waitFor()
  await visit(home, '#/')
  await home.locator('[data-sign]', { hasText: 'Open to the crew' }).waitFor()
  await visit(home, '#/crew')
  await home.locator('[data-key="close"]').tap()
  await home.locator('[data-key="open"]').waitFor()
  await home.locator('[data-sign]').waitFor({ state: 'detached' })
  await phone.locator('[data-sign]', { hasText: 'No link' }).waitFor()
  assert.deepEqual([...home.wrong, ...phone.wrong], [])
})

test('one writes, one looks on, one reads from the big display: every reading is on all screens', async () => {
  const room = await halfRead(site.home)
  const [ana, ben] = [await join(site, 'Ana'), await join(site, 'Ben', 'read')]
  await visit(ben, `#/rooms/${room}/display`)
  await visit(site.home, `#/rooms/${room}/readings`)
  const thumb = await atPad(ana, room)
  const open = await point(ana)
  await ben.locator(`[data-now="${open}"]`).waitFor()
  const first = await enter(ana, thumb, '44-3/8')
  await ben.locator(`[data-kept="${first}"]`, { hasText: '44-3/8' }).waitFor()
  await ben.locator(`[data-now="${await point(ana)}"]`).waitFor()
  await site.home.getByRole('heading', { name: '14 of 28' }).waitFor()
  const [reading] = (await readings(room)).filter((one) => one.point === first)
  assert.equal(reading.by, 'Ana', 'it is known who read it')
  const { entries } = await ask(site.home, 'history', { room })
  assert.equal(entries.at(-1).person, 'Ana')
  assert.deepEqual([...ana.wrong, ...ben.wrong], [])
})

test('who may only look is refused, until the role is changed at home, and then at once', async () => {
  const room = await halfRead(site.home)
  const cai = await join(site, 'Cai', 'read')
  const thumb = await atPad(cai, room)
  await thumb.put('44-1/4')
  await thumb.tap('[data-key="next"]')
  await cai.locator('[role="alert"]', { hasText: 'may look, not write' }).waitFor()
  await visit(site.home, '#/crew')
  const member = site.home.locator('[data-member="Cai"]')
  await answered(site.home, 'crew-change', () => member.getByRole('radio', { name: 'write' }).tap())
  await member.getByText('reads and writes').waitFor()
  const at = await point(cai)
  await thumb.tap('[data-key="next"]')
  await elsewhere(cai, at)
  await kept(room, [at])
})

test('the link is cut, entering goes on, and what was entered arrives once and in its order', async () => {
  const room = await halfRead(site.home)
  const dee = await join(site, 'Dee')
  const thumb = await atPad(dee, room)
  await dee.context().setOffline(true)
  const points = []
  for (const text of ['44-3/8', '44-1/2', '44-9/16']) points.push(await enter(dee, thumb, text))
  await dee.locator('[data-sign]', { hasText: /No link.*3 entries wait here/ }).waitFor()
  assert.equal((await readings(room)).length, 13, 'nothing came home')
  await dee.context().setOffline(false)
  await kept(room, points)
  await dee.waitForFunction(() => !document.querySelector('[data-sign]').textContent.includes('wait'))
  const came = (await readings(room)).slice(13)
  assert.deepEqual(
    came.map(({ point, entered, value, by }) => [point, entered, value, by]),
    points.map((id, k) => [id, ['44-3/8', '44-1/2', '44-9/16'][k], [44.375, 44.5, 44.5625][k] * 25.4, 'Dee']),
  )
  assert.deepEqual(dee.wrong, [])
})

test('a screen that only looks on says by itself that the link is gone, and of when it is what it shows', async () => {
  const room = await halfRead(site.home)
  const joe = await join(site, 'Joe', 'read')
  await visit(joe, `#/rooms/${room}/findings`)
  await visit(joe, `#/rooms/${room}/display`)
  await joe.locator('[data-now]').waitFor()
  await joe.context().setOffline(true)
  await joe.locator('[data-sign]', { hasText: 'No link' }).waitFor()
  await visit(joe, `#/rooms/${room}/findings`)
  await joe.locator('[data-sign]', { hasText: 'As seen' }).waitFor()
  await visit(joe, `#/rooms/${room}/straightedge`)
  await joe.getByText('It can be done when the link is back').waitFor()
  await joe.context().setOffline(false)
  await joe.locator('[data-sign]:not(:has-text("No link"))').waitFor()
  await joe.getByText('It can be done when the link is back').waitFor({ state: 'detached' })
  assert.deepEqual(joe.wrong, [])
})

test('a page that is closed with entries waiting opens again with the home device away, and they arrive', async () => {
  const room = await halfRead(site.home)
  const eve = await join(site, 'Eve')
  const thumb = await atPad(eve, room)
  await eve.evaluate(() => navigator.serviceWorker.ready)
  await eve.context().setOffline(true)
  const at = await enter(eve, thumb, '44-5/8')
  await eve.close({ runBeforeUnload: false })
  const again = await newPage(eve.context())
  await again.goto(`${site.address}/#/rooms/${room}/readings`)
  await again.waitForSelector('[data-stage="reading"]')
  await again.locator('[data-sign]', { hasText: 'One entry waits here' }).waitFor()
  assert.notEqual(await point(again), at, 'it is not asked for again')
  await visit(again, '#/crew')
  await again.getByText('The rooms are out of reach').waitFor()
  await again.context().setOffline(false)
  await kept(room, [at])
  await again.getByText('Nothing waits').waitFor()
})

test('two who read one point, neither knowing of the other, both stand until one chooses', async () => {
  const room = await halfRead(site.home)
  const [fay, gus] = [await join(site, 'Fay'), await join(site, 'Gus')]
  const [one, other] = [await atPad(fay, room), await atPad(gus, room)]
  await fay.context().setOffline(true)
  const at = await enter(fay, one, '44-1/4')
  assert.equal(await enter(gus, other, '44-3/8'), at)
  await fay.context().setOffline(false)
  await visit(site.home, `#/rooms/${room}`)
  const choice = site.home.locator(`[data-doubled="${at}"]`)
  await choice.waitFor()
  await shown(site.home)
  const words = await choice.textContent()
  assert.ok(words.includes('Fay') && words.includes('Gus'), words)
  await answered(site.home, 'write', () => choice.getByRole('button', { name: /Fay/ }).tap())
  await choice.waitFor({ state: 'detached' })
  const both = (await readings(room)).filter((reading) => reading.point === at)
  assert.deepEqual(
    new Map(both.map(({ by, withdrawn }) => [by, withdrawn ?? false])),
    new Map([
      ['Fay', false],
      ['Gus', true],
    ]),
  )
})

test('a device that is turned away sees nothing more, and keeps what it has not sent', async () => {
  const room = await halfRead(site.home)
  const hal = await join(site, 'Hal')
  const thumb = await atPad(hal, room)
  await hal.context().setOffline(true)
  await enter(hal, thumb, '44-1/4')
  await visit(site.home, '#/crew')
  await site.home.locator('[data-member="Hal"]').getByRole('button', { name: 'Turn away' }).tap()
  await site.home.locator('[data-member="Hal"]').waitFor({ state: 'detached' })
  await hal.context().setOffline(false)
  await hal.waitForSelector('main[data-page="join"]')
  const refused = await hal.evaluate(async (room) => {
    const answer = await fetch('/dispatch/room', { method: 'POST', body: JSON.stringify({ room }) })
    return [answer.status, (await answer.json()).kind]
  }, room)
  assert.deepEqual(refused, [401, 'not-joined'])
  const waits = await hal.evaluate(
    () => Object.keys(localStorage).filter((key) => key.startsWith('truefall-waits-')).length,
  )
  assert.equal(waits, 1)
  assert.equal((await readings(room)).length, 13)
})

test('under the sign every screen still has room, in both themes and in the hand', async () => {
  const room = await halfRead(site.home)
  const ida = await join(site, 'Ida <b>bold</b><script>globalThis.ran = 1</script>'.slice(0, 40))
  const looks = [
    [`#/rooms/${room}/readings`, '[data-stage="reading"]'],
    [`#/rooms/${room}/display`, '[data-now]'],
    [`#/rooms/${room}`, '[data-next]'],
    ['#/crew', '[data-member]'],
  ]
  for (const page of [ida, site.home]) {
    await page.setViewportSize({ width: 360, height: 780 })
    for (const colorScheme of ['light', 'dark']) {
      await page.emulateMedia({ colorScheme })
      for (const [hash, there] of looks) {
        await visit(page, hash)
        await page.locator(there).first().waitFor()
        await assertTargets(page)
        await assertFits(page)
        await assertAccessible(page)
      }
    }
    await visit(page, `#/rooms/${room}/readings`)
    await page.waitForSelector('[data-stage="reading"]')
    const tall = await page.evaluate(() => document.documentElement.scrollHeight)
    assert.ok(tall <= 780, `the pad is under the thumb, not ${tall - 780} px below the glass`)
    assert.equal(await page.evaluate(() => globalThis.ran), undefined, 'a name is text')
  }
  await site.home.setViewportSize({ width: 1280, height: 800 })
})

test('what is put into any text of a room is a text on every screen of everybody', async () => {
  const trap = (name) => `${name}<img data-ran src=x onerror="globalThis.ran=1"><b data-ran>x</b>`
  const at = '2026-03-02T08:00:00Z'
  const room = crypto.randomUUID()
  const kim = await join(site, 'Kim')
  const put = (command, payload) => write(kim, room, command, payload)
  const entry = (what) => put('entry-put', { entry: { id: crypto.randomUUID(), at, what } })
  await put('room-new', { name: trap('Bath'), place: trap('Street'), units: 'in', created: at })
  const surveys = plan.surveys.map((survey) => ({ ...survey, name: trap(survey.name) }))
  await put('plan-set', { plan: { ...plan, surveys, base_wall: trap('door wall'), side_wall: trap('left wall') } })
  const setup = { setup: 's', survey: plan.surveys[0].id, instrument: trap('laser'), sd_mm: 0.8 }
  const benchmark = { name: trap('mark'), height: 0 }
  await put('setup-open', { ...setup, benchmark, opening: { text: '44-1/4', mm: 44.25 * 25.4, at } })
  await put('ledges-set', {
    ledges: [{ id: 'l', kind: 'bench', name: trap('bench'), depth: 300, back: 300, front: 305 }],
  })
  await entry({ kind: 'person', name: trap('R. Example'), role: trap('setter') })
  await entry({ kind: 'material', thing: 'membrane', product: trap('liquid'), batch: trap('7') })
  await entry({ kind: 'cure', product: trap('membrane'), hours: 24, finished: at })
  const screens = [
    '',
    'readings',
    'findings',
    'plan',
    'height',
    'ledges',
    'tests',
    'behind',
    'record',
    'history',
    'display',
  ]
  for (const page of [kim, site.home]) {
    const seen = []
    for (const hash of ['#/', '#/crew', ...screens.map((name) => `#/rooms/${room}/${name}`.replace(/\/$/, ''))]) {
      await visit(page, hash)
      const [made, ran, text] = await page.evaluate(() => [
        document.querySelectorAll('[data-ran]').length,
        globalThis.ran,
        document.body.textContent,
      ])
      assert.deepEqual([made, ran], [0, undefined], hash)
      if (text.includes('<img data-ran')) seen.push(hash)
    }
    assert.ok(seen.length >= 4, `the texts were on the screens: ${seen}`)
  }
})
