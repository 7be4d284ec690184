// What happens on site: the link fails, the page is loaded again, the program is killed, the phone is turned, the text is
// set twice as large, motion is not wanted, there is only a keyboard.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, openPage, shown, startHost, visit, write } from './host.mjs'
import { said } from './demo.mjs'
import { plan, walk } from './kestrel.mjs'
import { assertFits, assertTargets } from './measure.mjs'
import { newRoom } from './rooms.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'
import { Thumb, strike } from './thumb.mjs'

const { begin, on } = bench()

/** A page on the readings of a room half read. */
async function reading(size) {
  const page = await begin(size)
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  return { page, room, thumb: new Thumb(page) }
}

const at = (page) => page.locator('[data-point]').getAttribute('data-point')
const entered = async (page, room, id) => {
  const { surveys } = await ask(page, 'room', { room })
  return surveys[0].points.find((point) => point.id === id).reading?.entered
}

test('a reading is on disk before the field clears: the page is torn away right after next, and it is there', async () => {
  const { page, room, thumb } = await reading()
  const point = await at(page)
  await thumb.put('44-1/2')
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((point) => document.querySelector('[data-point]')?.dataset.point !== point, point)
  await page.context().close()
  const again = await begin()
  assert.equal(await entered(again, room, point), '44-1/2')
  await visit(again, `#/rooms/${room}/readings`)
  await again.waitForSelector('[data-stage="reading"]')
  assert.notEqual(await at(again), point, 'and the next point is asked for')
})

test('loading the page again in the middle of a number asks for the same point, with nothing kept of half a number', async () => {
  const { page, room, thumb } = await reading()
  const point = await at(page)
  await thumb.put('44-1/2')
  await page.reload()
  await page.waitForSelector('[data-stage="reading"]')
  assert.equal(await at(page), point)
  assert.equal(await entered(page, room, point), undefined)
})

test('without a link the number stays in the field, is sent once when there is one, and is there once', async () => {
  const { page, room, thumb } = await reading()
  const point = await at(page)
  await thumb.put('44-1/2')
  await shown(page)
  await page.context().setOffline(true)
  await thumb.tap('[data-key="next"]')
  await page.waitForSelector('[role="alert"]')
  assert.match(await said(page.locator('[role="alert"]')), /Nothing you entered is lost/)
  assert.match(await said(page.locator('output')), /44-1\/2/)
  await page.context().setOffline(false)
  await thumb.tap('[data-key="next"]')
  await page.waitForFunction((point) => document.querySelector('[data-point]')?.dataset.point !== point, point)
  assert.equal(await entered(page, room, point), '44-1/2')
  const { text } = await ask(page, 'room-export', { room })
  assert.equal(JSON.parse(text).readings.filter((one) => one.point === point).length, 1)
})

test('the program is killed in the middle of a survey, and nothing that was kept is lost', async (context) => {
  const own = await startHost()
  context.after(() => own.stop())
  const page = await openPage(on.browser, own.address)
  const room = await halfRead(page)
  const before = await ask(page, 'room', { room })
  await own.kill()
  await own.start()
  const again = await openPage(on.browser, own.address)
  const after = await ask(again, 'room', { room })
  assert.equal(after.head, before.head)
  assert.equal(after.surveys[0].read, 13)
})

test('turned on its side, a phone keeps the number that was being entered', async () => {
  const { page, thumb } = await reading()
  await thumb.put('44-1/2')
  await page.setViewportSize({ width: 780, height: 360 })
  await shown(page)
  assert.match(await said(page.locator('output')), /44-1\/2/)
  const next = await page.locator('[data-key="next"]').boundingBox()
  assert.ok(next.y + next.height <= 360, `next ends at ${next.y + next.height}`)
})

test('with text twice as large every screen still fits its width, and next can be reached', async (t) => {
  const page = await begin()
  const rooms = { ...(await furnish(page)), half: await halfRead(page), halfMm: await halfReadMm(page) }
  await page.evaluate(() => (document.documentElement.style.fontSize = '200%'))
  for (const [name, screen] of Object.entries(screens(rooms))) {
    await t.test(name, async () => {
      await show(page, screen)
      await assertFits(page)
      await assertTargets(page)
      const next = page.locator('[data-key="next"]')
      if (await next.count()) await next.scrollIntoViewIfNeeded()
    })
  }
})

test('nothing moves where motion is not wanted', async () => {
  const { page } = await reading({ reducedMotion: 'reduce' })
  const moving = await page.evaluate(() =>
    [...document.querySelectorAll('*')]
      .filter((one) => {
        const { transitionDuration, animationName } = getComputedStyle(one)
        return transitionDuration.split(',').some((time) => parseFloat(time) > 0) || animationName !== 'none'
      })
      .map((one) => one.outerHTML.slice(0, 80)),
  )
  assert.deepEqual(moving, [])
})

test('a keyboard alone goes from the list of rooms to a kept reading, and what has the focus is seen', async () => {
  const page = await begin({ hasTouch: false })
  const room = await newRoom(page, { name: 'Keyboard bath' })
  await write(page, room, 'plan-set', { plan })
  await page.reload()
  await page.getByRole('link', { name: /Keyboard bath/ }).waitFor()
  await shown(page)
  /** Presses Tab until what is named has the focus, seen. */
  const tabTo = async (name) => {
    for (let k = 0; k < 60; k += 1) {
      await page.keyboard.press('Tab')
      const [text, outline] = await page.evaluate(() => {
        const one = document.activeElement
        const ring = one.closest('label') ?? one
        return [`${one.textContent} ${one.getAttribute('aria-label') ?? ''}`, getComputedStyle(ring).outlineStyle]
      })
      if (name.test(text)) return assert.equal(outline, 'solid', `the focus on ${text} is seen`)
    }
    assert.fail(`${name} was never reached`)
  }
  await tabTo(/Keyboard bath/)
  await page.keyboard.press('Enter')
  await page.waitForSelector('main[data-page="room"] [data-next]')
  await shown(page)
  await tabTo(/Joists as found|joists as found/)
  await page.keyboard.press('Enter')
  await page.waitForSelector('main[data-page="readings"] form')
  await shown(page)
  await tabTo(/Read the mark/)
  await page.keyboard.press('Enter')
  await page.waitForSelector('[data-stage="opening"]')
  await strike(page, '44 1/4')
  await page.keyboard.press('Enter')
  await page.waitForSelector(`[data-point="${walk[0].point}"]`)
  await strike(page, '44 1/8')
  await page.keyboard.press('Enter')
  await page.waitForSelector(`[data-point="${walk[1].point}"]`)
  assert.equal(await entered(page, room, walk[0].point), '44 1/8')
})

test('the readings screen reads out what it is', async () => {
  const { page } = await reading()
  const tree = await page.locator('main').ariaSnapshot()
  for (const line of [
    /heading "J4"/,
    /button "Skip"/,
    /button "Whole inch 43"/,
    /group "Keys for the reading"/,
    /button "Undo .*"/,
    /button "Next" \[disabled\]/,
    /button "Lock the glass to wipe it"/,
  ])
    assert.match(tree, line)
})
