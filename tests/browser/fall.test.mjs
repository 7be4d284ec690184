// A wet floor: how it is to fall, how it is put right, how much it holds; and how much a pour takes.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, keep, takeBack, unfold, works } from './bench.mjs'
import { eachSaid, said } from './demo.mjs'
import { ask, press, put, visit, write } from './host.mjs'
import { assertAccessible, assertFits, assertLabels, assertMargins, assertTargets } from './measure.mjs'

const { open } = bench()

test('a floor laid wrong is filled in two places, checked before it is proposed', async () => {
  const { page } = await open('banksia', 'fall')
  const part = page.locator('[data-part="correction"]')
  await part.waitFor()
  const rows = await eachSaid(part.locator('ul li'))
  assert.equal(rows.length, 2)
  assert.match(rows[0].replaceAll('\u2060', ''), /^Fill 6\.0 mm at 900\/600 .*Fading to nothing at 600\/600/)
  assert.match(rows[1].replaceAll('\u2060', ''), /^Fill 1\.8 mm at 1200\/600/)
  assert.match(await said(part), /Checked again with the fills on it: nothing is out and no water stands/)
  assert.deepEqual(page.wrong, [])
})

test('a rise of 25 is kept: 1:72, the marks follow, and going back takes it away', async () => {
  const { page, room } = await open('banksia', 'fall')
  await put(page, page.getByLabel('Edge over the drain'), '25')
  await page.getByText('The edge stands 25.0 mm over the drain').waitFor()
  assert.match(await said(page.locator('[data-part="edge"]')), /1:72/)
  assert.match(await said(page.locator('[data-wall="0"]')), /12\.5 mm at 900 mm/)
  assert.equal((await works(page, room)).fall, undefined, 'trying keeps nothing')
  await keep(page)
  assert.equal((await works(page, room)).fall.rise, 25)
  await takeBack(page)
  await page.getByText('The edge stands 29.3 mm over the drain').waitFor()
})

test('the shower head fills what the floor holds in so many minutes', async () => {
  const { page } = await open('banksia', 'fall')
  await put(page, page.getByLabel('The shower head gives'), '9')
  const hold = page.locator('[data-part="hold"]')
  assert.match(
    await said(hold),
    /The floor holds 19\.2 L, 23\.9 mm at its deepest.*That lasts 2\.13 minutes at 9 L\/min/,
  )
})

test('a point drain shows both origins, the rule of access beside, and that none of its level edges does', async () => {
  const { page } = await open('rowan', 'fall')
  await press(page, page.locator('[data-part="rules"] summary'))
  const rules = await eachSaid(page.locator('[data-part="rules"] li'))
  const access = rules.find((rule) => rule.includes('accessible'))
  assert.match(access, /out.*No level edge: the far corner needs 47\/64 in, the near wall allows 3\/8 in/)
  assert.match(await said(page.locator('[data-part="edge"]')), /both 1:48: one value alone keeps both/)
  assert.match(await said(page.locator('[data-origin="rim"]')), /1:23 · 0\.516 in\/ft/)
  await press(page, page.getByRole('radio', { name: 'Its rim' }))
  await page.waitForFunction(() => document.querySelector('[data-origin]').dataset.origin === 'rim')
})

test('what no floor can be is said, and what was typed stands', async () => {
  const { page, room } = await open('rowan', 'fall')
  const rise = page.getByLabel('Edge over the drain')
  await put(page, rise, '-1')
  assert.match(await said(alert(page)), /Edge over the drain” must be zero or more/)
  await page.getByRole('button', { name: 'Keep this' }).tap()
  await page.waitForFunction(() => document.querySelectorAll('[role="alert"]').length === 2)
  assert.equal(await rise.inputValue(), '-1')
  assert.equal((await works(page, room)).fall, undefined)
  const room2 = await ask(page, 'room', { room })
  const plan = { ...room2.plan, drain: { from: [9000, 9000] } }
  await write(page, room, 'plan-set', { plan })
  await rise.fill('')
  await page.getByText('The drain lies outside the room').waitFor()
})

test('a pour tells its bags, its depths against the sheet, and what to dam', async () => {
  const { page, room } = await open('banksia', 'pour')
  await press(page, page.getByRole('button', { name: 'Start with the usual' }))
  await put(page, page.getByLabel('One bag yields'), '11.5')
  await page.getByRole('heading', { name: '3 bags' }).waitFor()
  await put(page, page.getByLabel('Greatest depth'), '10')
  const takes = page.locator('[data-part="takes"]')
  assert.match(await said(takes), /Thickest 28\.0 mm at .*out · at most 10\.0 mm/)
  assert.match(await said(takes), /Dam the entry, 900 mm wide, at least 4\.1 mm high/)
  await keep(page)
  assert.equal((await works(page, room)).pour.yield_litres, 11.5)
  await put(page, page.getByLabel('One bag yields'), '0')
  assert.match(await said(alert(page)), /One bag yields” must be more than zero/)
  assert.equal((await works(page, room)).pour.yield_litres, 11.5)
})

test('the depths stand on the plan in figures over a field, the deepest and the shallowest among them', async () => {
  for (const [width, height] of [
    [360, 780],
    [1280, 800],
  ]) {
    const { page } = await open('banksia', 'pour', { width, height })
    await press(page, page.getByRole('button', { name: 'Start with the usual' }))
    const map = page.locator('[data-part="depths"] svg')
    const figures = await map.locator('text.strong').allTextContents()
    assert.ok(figures.length >= 20 && figures.includes('28.0') && figures.includes('3.0'), figures.join(' '))
    assert.ok((await map.locator('path[style]').count()) >= 4, 'bands of depth')
    await assertLabels(map, 20)
    await assertMargins(page)
  }
})

test('compound is not poured over joists', async () => {
  const { page, room } = await open('kestrel', 'pour')
  const pour = { kind: 'compound', product: '', over: 3, waste: 0.1 }
  await write(page, room, 'pour-set', { pour })
  await page.locator('[role="alert"]', { hasText: /never over bare joists/ }).waitFor()
})

test('targets are large and apart, and no rule of access is broken, in both themes and with text twice as large', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page, room } = await open('banksia', 'fall', { colorScheme })
    await page.locator('[data-part="correction"]').waitFor()
    for (const screen of ['fall', 'pour']) {
      await visit(page, `#/rooms/${room}/${screen}`)
      await page.waitForSelector(screen === 'fall' ? '[data-part="marks"]' : '.page button')
      await unfold(page)
      await assertMargins(page)
      await assertTargets(page)
      await assertAccessible(page)
      await page.evaluate(() => (document.documentElement.style.fontSize = '200%'))
      await assertFits(page)
      await page.evaluate(() => (document.documentElement.style.fontSize = ''))
    }
  }
})
