// Every key, link and field of every screen is large enough for a glove and stands apart from the next.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'
import { openPage, startBrowser, startHost } from './host.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'

const LEAST = 56
const APART = 8

let host, browser
before(async () => {
  host = await startHost()
  browser = await startBrowser()
})
after(async () => {
  await browser?.close()
  await host?.stop()
})

/** The boxes of all that can be pressed or filled in, each with a name to find it by. */
function targets() {
  const found = document.querySelectorAll(
    'a[href], button, select, textarea, summary, [role="tab"], [tabindex="0"], input, label:has(input)',
  )
  const boxes = []
  for (const element of found) {
    if (element.matches('label input') || element.closest('[inert]')) continue
    const box = element.getBoundingClientRect()
    if (box.width === 0 || !element.checkVisibility({ visibilityProperty: true })) continue
    if (element.matches('[tabindex="0"]:not(button, a, input, [role="tab"], [role="button"], [role="slider"])')) continue
    const name = (element.getAttribute('aria-label') ?? element.textContent ?? '').trim().slice(0, 30)
    const { left, top, right, bottom } = box
    boxes.push({ name: `${element.tagName.toLowerCase()} “${name}”`, left, top, right, bottom })
  }
  return boxes
}

/** What is too small, and which two are too close. */
function complaints(boxes) {
  const rounded = (value) => Math.round(value * 10) / 10
  const small = boxes
    .map((box) => ({ ...box, wide: rounded(box.right - box.left), high: rounded(box.bottom - box.top) }))
    .filter(({ wide, high }) => wide < LEAST || high < LEAST)
    .map(({ name, wide, high }) => `${name} is ${wide} × ${high}`)
  const close = boxes.flatMap((a, i) =>
    boxes.slice(i + 1).flatMap((b) => {
      const across = Math.max(a.left - b.right, b.left - a.right)
      const down = Math.max(a.top - b.bottom, b.top - a.bottom)
      const apart = rounded(Math.max(across, down))
      return apart < APART ? [`${a.name} and ${b.name} are ${apart} apart`] : []
    }),
  )
  return [...small, ...close]
}

test('the measure sees what is too small and too close', () => {
  const box = (left, right) => ({ name: `${left}`, left, right, top: 0, bottom: 56 })
  assert.deepEqual(complaints([box(0, 56), box(64, 120)]), [])
  assert.equal(complaints([box(0, 55)]).length, 1)
  assert.equal(complaints([box(0, 56), box(63, 119)]).length, 1)
})

for (const [width, height] of [
  [360, 780],
  [1280, 800],
]) {
  test(`every target at ${width} × ${height}`, async (t) => {
    const page = await openPage(browser, host.address, { width, height })
    const rooms = { ...(await furnish(page)), half: await halfRead(page), halfMm: await halfReadMm(page) }
    for (const [name, screen] of Object.entries(screens(rooms))) {
      await t.test(name, async () => {
        await show(page, screen)
        await page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)))
        const boxes = await page.evaluate(targets)
        assert.ok(boxes.length > 0)
        assert.deepEqual(complaints(boxes), [])
        const wide = await page.evaluate(() => document.documentElement.scrollWidth)
        assert.ok(wide <= width, `the page is ${wide} wide`)
      })
    }
    assert.deepEqual(page.wrong, [])
  })
}

test('the pad has keys of 80 × 72 and is whole on the screen', async () => {
  const page = await openPage(browser, host.address)
  await show(page, [`#/rooms/${await halfRead(page)}/readings`, '[data-stage="reading"]'])
  for (const keys of ['sixteenths', 'digits']) {
    for (const key of await page.locator('.pad button').all()) {
      const { width, height } = await key.boundingBox()
      assert.ok(width >= 80 && height >= 72, `${keys}: ${width} × ${height}`)
    }
    const next = await page.locator('[data-key="next"]').boundingBox()
    assert.ok(next.y + next.height <= 780 && next.width >= 140)
    await page.tap('[data-keys="other"]')
  }
})
