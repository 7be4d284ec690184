// Measures what is on the screen: how large the targets are, how far apart, and whether labels cover one another.
import assert from 'node:assert/strict'
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'

const axe = readFileSync(
  createRequire(fileURLToPath(new URL('../../ui/package.json', import.meta.url))).resolve('axe-core/axe.min.js'),
  'utf8',
)

const least = 56
const apart = 8

/** Every visible thing that can be pressed, with its box on the page. */
function targets(page) {
  return page.evaluate(() => {
    const pressed =
      'a[href], button, input, select, textarea, summary, [role="button"], [role="checkbox"], [role="tab"]'
    return [...document.querySelectorAll(pressed)]
      .filter((one) => one.checkVisibility())
      .map((one) => {
        const { left, top, right, bottom } = one.getBoundingClientRect()
        const name = (one.getAttribute('aria-label') ?? one.textContent).replace(/\s+/g, ' ').trim().slice(0, 40)
        return { name: `${one.tagName.toLowerCase()} "${name}"`, left, top, right, bottom }
      })
  })
}

/** Every target is at least 56 × 56 px, and 8 px from the next. */
export async function assertTargets(page) {
  const all = await targets(page)
  assert.ok(all.length > 0, 'no target was found')
  for (const { name, left, top, right, bottom } of all) {
    const [width, height] = [right - left, bottom - top]
    assert.ok(width >= least - 0.5 && height >= least - 0.5, `${name} is ${width.toFixed(0)} × ${height.toFixed(0)}`)
  }
  all.forEach((a, index) =>
    all.slice(index + 1).forEach((b) => {
      const across = Math.max(a.left - b.right, b.left - a.right)
      const down = Math.max(a.top - b.bottom, b.top - a.bottom)
      assert.ok(Math.max(across, down) >= apart - 0.5, `${a.name} and ${b.name} are ${Math.max(across, down)} px apart`)
    }),
  )
}

/** No rule for accessible pages is broken, contrast included. */
export async function assertAccessible(page) {
  await page.evaluate(axe)
  const { violations } = await page.evaluate(() => axe.run(document, { resultTypes: ['violations'] }))
  const said = violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(' | ')}`)
  assert.deepEqual(said, [])
}

/** The page is no wider than the screen. */
export async function assertFits(page) {
  const [wide, room] = await page.evaluate(() => [document.documentElement.scrollWidth, innerWidth])
  assert.ok(wide <= room, `${wide} px of page on ${room} px of screen`)
}

/** What a screen shows keeps its margins at both sides. */
export async function assertMargins(page, least = 12) {
  const over = await page.evaluate((least) => {
    const seen = [...document.querySelectorAll('.page *:not(svg *)')].filter((one) => one.checkVisibility())
    const off = seen.filter((one) => {
      const { left, right, width } = one.getBoundingClientRect()
      return width > 1 && (left < least || right > innerWidth - least)
    })
    return off.slice(0, 3).map((one) => `${one.tagName.toLowerCase()} to ${one.getBoundingClientRect().right}`)
  }, least)
  assert.deepEqual(over, [])
}

/** Labels of a drawing stand inside it and clear of one another. */
export async function assertLabels(svg, least = 4) {
  const { frame, labels } = await svg.evaluate((svg) => {
    const box = (one) => {
      const { left, top, right, bottom } = one.getBoundingClientRect()
      return { left, top, right, bottom }
    }
    const texts = [...svg.querySelectorAll('text')].filter((text) => text.textContent.trim())
    return { frame: box(svg), labels: texts.map((text) => ({ text: text.textContent, ...box(text) })) }
  })
  assert.ok(labels.length >= least, `only ${labels.length} labels were found`)
  for (const { text, left, top, right, bottom } of labels) {
    const inside =
      left >= frame.left - 1 && right <= frame.right + 1 && top >= frame.top - 1 && bottom <= frame.bottom + 1
    assert.ok(inside, `"${text}" leaves the drawing`)
  }
  labels.forEach((a, index) =>
    labels.slice(index + 1).forEach((b) => {
      const cover = a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 3 && b.top < a.bottom - 3
      assert.ok(!cover, `"${a.text}" and "${b.text}" cover one another`)
    }),
  )
}

/** No word runs out of what holds it, or is cut off; names of rooms in the header may be. */
export async function assertWords(page) {
  const cut = await page.evaluate(() => {
    const holds = (one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim())
    const named = (one) => `${one.tagName.toLowerCase()} "${one.textContent.replace(/\s+/g, ' ').trim().slice(0, 60)}"`
    return [...document.querySelectorAll('main *:not(svg *)')]
      .filter((one) => holds(one) && one.checkVisibility() && !one.closest('.heard, header .name, .undo .small'))
      .flatMap((one) => {
        const style = getComputedStyle(one)
        const inline = style.display === 'inline'
        const box = one.getBoundingClientRect()
        const wide = !inline && one.scrollWidth > one.clientWidth + 2
        const off = box.right > innerWidth + 1 || box.left < -1
        const scrolls = one.closest('.wide')
        return (wide || off) && !scrolls ? [`${named(one)} is ${one.scrollWidth} in ${one.clientWidth}`] : []
      })
  })
  assert.deepEqual(cut, [])
}
