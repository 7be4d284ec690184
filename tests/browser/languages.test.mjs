// The three languages on every screen: no word missing, cut off or left in another language; numbers as the language
// writes them; lengths in the units a person thinks in.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench, unfold } from './bench.mjs'
import { ask, press, shown, visit } from './host.mjs'
import { said } from './demo.mjs'
import { assertFits, assertTargets, assertWords } from './measure.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'
import { Thumb } from './thumb.mjs'

const { begin } = bench()

/** What went wrong, but for the screen that is shown refusing. */
function unexpected({ wrong }) {
  return wrong.filter((line) => !line.includes('422'))
}

/** Words that would stand on a Spanish screen only by mistake; names that people gave are no words of the program. */
const english =
  /\b(the|and|from|with|joists?|reading|readings|floor|height|wall|of|not|is|this|choose|keep|read|level|sister|strip)\b/i

/** What stands on the page and is said by it, without names that people gave. */
function spoken(page) {
  return page.evaluate(() => {
    const own =
      /Kestrel Lane hall bath|Rowan Street curbless|Banksia Court ensuite|Harbor View ensuite|Attic bath|Guest bath/g
    const text = document.querySelector('main').innerText
    const heard = [...document.querySelectorAll('main [aria-label]')].map((one) => one.getAttribute('aria-label'))
    return [text, ...heard]
      .join('\n')
      .replace(own, '')
      .replace(/Second floor|English \([^)]*\)|Truefall/g, '')
  })
}

for (const language of ['es', 'en-AU']) {
  test(`every screen in ${language}`, async (t) => {
    const locale = { es: 'es-MX', 'en-AU': 'en-AU' }[language]
    const page = await begin({ locale })
    assert.equal(await page.locator('html').getAttribute('lang'), language)
    const rooms = { ...(await furnish(page)), half: await halfRead(page), halfMm: await halfReadMm(page) }
    for (const [name, screen] of Object.entries(screens(rooms))) {
      await t.test(name, async () => {
        await show(page, screen)
        await unfold(page)
        await assertFits(page)
        await assertTargets(page)
        await assertWords(page)
        if (language === 'es') {
          const lines = (await spoken(page)).split('\n').filter((line) => english.test(line))
          assert.deepEqual(lines, [])
        }
      })
    }
    assert.deepEqual(unexpected(page), [])
  })
}

test('the language is chosen on the device and stays', async () => {
  const page = await begin()
  await visit(page, '#/settings')
  await page.getByRole('radio', { name: 'Español' }).tap()
  await page.getByRole('heading', { name: 'Ajustes' }).waitFor()
  await page.reload()
  await page.getByRole('heading', { name: 'Ajustes' }).waitFor()
  await press(page, page.getByRole('radio', { name: 'English (UK, Australia)' }))
  await page.getByRole('radio', { name: 'Millimetres' }).waitFor()
  assert.match(await said(page.locator('.page')), /way to the waste/)
})

test('a comma stands before decimals where the language has it so, and is understood', async () => {
  const page = await begin({ locale: 'es-ES' })
  const room = await halfReadMm(page)
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  const thumb = new Thumb(page)
  for (const key of ['1', '1', '2', '1']) await thumb.tap(`[data-key="${key}"]`)
  const point = page.locator('[data-key="point"]')
  assert.equal((await point.textContent()).trim(), ',')
  await thumb.tap('[data-key="point"]')
  await thumb.tap('[data-key="5"]')
  assert.match(await said(page.locator('output')), /1121,5/)
  const at = await page.locator('[data-point]').getAttribute('data-point')
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((at) => document.querySelector('[data-point]')?.dataset.point !== at, at)
  const { surveys } = await ask(page, 'room', { room })
  assert.equal(surveys[0].points.find(({ id }) => id === at).reading.value, 1121.5)
  assert.deepEqual(page.wrong, [])
})

test('a room in inches is shown and read in millimetres, and says so in what is kept', async () => {
  const page = await begin()
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}`)
  await press(page, page.getByRole('radio', { name: 'mm', exact: true }))
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  const at = await page.locator('[data-point]').getAttribute('data-point')
  const thumb = new Thumb(page)
  for (const key of ['1', '1', '2', '0']) await thumb.tap(`[data-key="${key}"]`)
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((at) => document.querySelector('[data-point]')?.dataset.point !== at, at)
  const { surveys } = await ask(page, 'room', { room })
  const { entered, value } = surveys[0].points.find(({ id }) => id === at).reading
  assert.deepEqual([entered, value], ['1120 mm', 1120])
  await visit(page, `#/rooms/${room}/findings`)
  assert.match(await said(page.locator('.evidence')), / mm/)
  assert.doesNotMatch(await said(page.locator('.evidence')), /\d in\b/)
})

test('decimal inches are shown and read as decimals', async () => {
  const page = await begin()
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}`)
  await press(page, page.getByRole('radio', { name: '0.01 in' }))
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  const at = await page.locator('[data-point]').getAttribute('data-point')
  const thumb = new Thumb(page)
  for (const key of ['4', '4', 'point', '2', '5']) await thumb.tap(`[data-key="${key}"]`)
  await shown(page)
  assert.match(await said(page.locator('.echo')), /44.1\/4 in/)
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((at) => document.querySelector('[data-point]')?.dataset.point !== at, at)
  const { surveys } = await ask(page, 'room', { room })
  assert.equal(surveys[0].points.find(({ id }) => id === at).reading.entered, '44.25')
})
