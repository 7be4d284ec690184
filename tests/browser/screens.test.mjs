// Every screen, in both themes, on a phone and on a desk: large targets that stand apart, no rule of accessible pages
// broken, nothing wider than the glass, nothing wrong in the page.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, unfold } from './bench.mjs'
import { go, press, shown } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'
import { Thumb } from './thumb.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'

const { begin } = bench()

/** A page with rooms of every kind, and where its screens are. */
async function furnished(size) {
  const page = await begin(size)
  const rooms = {
    ...(await furnish(page)),
    half: await halfRead(page),
    halfMm: await halfReadMm(page),
  }
  return { page, all: screens(rooms) }
}

/** What went wrong, but for the screen that is shown refusing. */
function unexpected({ wrong }) {
  return wrong.filter((line) => !line.includes('422'))
}

test('the measures see what is too small, too close, unnamed or too wide', async () => {
  // What is shown here has its style in its tags, which no page of the program may have.
  const page = await begin({ bypassCSP: true })
  const put = (html) => page.evaluate((html) => (document.body.innerHTML = `<main><h1>A</h1>${html}</main>`), html)
  const key = (more = '') => `<button style="width:56px;height:56px;${more}">A</button>`
  await page.evaluate(() => document.documentElement.removeAttribute('data-theme'))
  await put(key('margin:8px') + key('margin:8px') + key('margin:8px'))
  await assertTargets(page)
  await put(key('margin:8px') + key('margin:8px') + key('margin:8px;width:50px'))
  await assert.rejects(assertTargets(page), /50 × 56/)
  await put(`<div style="display:flex;gap:6px">${key()}${key()}${key()}</div>`)
  await assert.rejects(assertTargets(page), /6 px apart/)
  await put('<button style="width:56px;height:56px"></button>')
  await assert.rejects(assertAccessible(page), /button-name/)
  await put('<div style="width:400px">A</div>')
  await assert.rejects(assertFits(page), /400 px/)
})

for (const [width, height] of [
  [360, 780],
  [1280, 800],
]) {
  for (const colorScheme of ['light', 'dark']) {
    test(`every screen at ${width} × ${height}, ${colorScheme}`, async (t) => {
      const { page, all } = await furnished({ width, height, colorScheme })
      for (const [name, screen] of Object.entries(all)) {
        await t.test(name, async () => {
          await show(page, screen)
          await unfold(page)
          await assertTargets(page)
          await assertAccessible(page)
          await assertFits(page)
        })
      }
      assert.deepEqual(unexpected(page), [])
    })
  }
}

/** *Next* is wide and above the lower edge of the phone. */
async function assertNextInSight(page) {
  const next = await page.locator('[data-key="next"]').boundingBox()
  assert.ok(next.y + next.height <= 776, `next ends at ${next.y + next.height}`)
  assert.ok(next.width >= 140, `next is ${next.width} wide`)
}

test('the pad has keys of 80 × 72 and is whole on the screen', async () => {
  const { page, all } = await furnished()
  for (const name of ['readings', 'readings-mm']) {
    await show(page, all[name])
    for (const turn of ['first', 'second']) {
      const keys = await page.locator('.pad button').all()
      assert.equal(keys.length, name === 'readings' ? 16 : 12)
      for (const key of keys) {
        const { width, height } = await key.boundingBox()
        assert.ok(width >= 80 && height >= 72, `${name}, ${turn} keys: ${width} × ${height}`)
      }
      await assertNextInSight(page)
      await new Thumb(page).tap('[data-keys="other"]')
    }
  }
})

test('next stays in sight with an unusual number in the field, and both answers to a slip', async () => {
  const { page, all } = await furnished()
  await show(page, all.readings)
  const thumb = new Thumb(page)
  await thumb.put('44')
  await shown(page)
  await page.waitForSelector('.ask')
  await assertNextInSight(page)
  await thumb.put('43-1/16')
  await page.waitForSelector('[data-question]')
  const last = await page.locator('[data-question] button').last().boundingBox()
  assert.ok(last.y + last.height <= 776, `the last answer ends at ${last.y + last.height}`)
})

/** Screens that ask the core for nothing before they stand. */
const ASK_NOTHING = ['new', 'settings', 'terms', 'record']

test('every screen says while it waits, says when the core does not answer, and stands when it does', async (t) => {
  const { page, all } = await furnished({ width: 360, height: 780 })
  for (const [name, screen] of Object.entries(all).filter(([name]) => !ASK_NOTHING.includes(name))) {
    await t.test(name, async () => {
      await go(page, '#/terms')
      await shown(page)
      const held = []
      let silent = false
      await page.route('**/dispatch/*', (route) => (silent ? route.abort() : held.push(route)))
      await go(page, screen[0])
      await page.getByText('One moment …').first().waitFor()
      silent = true
      await Promise.all(held.map((route) => route.abort()))
      await alert(page).waitFor()
      await shown(page, 'instruments too')
      await page.unroute('**/dispatch/*')
      // Every question of the screen is asked again until all are answered.
      const again = page.getByRole('button', { name: 'Try again' })
      while ((await again.count()) > 0) {
        await press(page, again.first())
        await shown(page, 'instruments too')
      }
      await page.waitForSelector(`main ${screen[1]}`)
    })
  }
})
