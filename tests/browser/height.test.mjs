// The heights of the demo room side by side, another height held, and the cut list ticked off.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { eachSaid, openDemo, said } from './demo.mjs'
import { answered, ask, press, shown, visit, write } from './host.mjs'
import { assertAccessible, assertFits, assertLabels, assertTargets } from './measure.mjs'

const { begin, unread } = bench()

async function openAt(screen, size) {
  const page = await begin(size)
  return { page, room: await openDemo(page, screen) }
}

const openHeight = (size) => openAt('height', size)
const openCutList = (size) => openAt('cut-list', size)
const alternative = (page, name) => page.locator(`[data-alternative="${name}"]`)
const joist = (page, id) => page.locator(`[data-joist="${id}"]`)
const title = (page) => said(page.locator('#hold'))

/** Presses a key of the height, and waits until the sentence has followed. */
const hold = (page, name) => press(page, page.getByRole('button', { name }))

/** Builds to the height that is shown, and waits until that is kept and shown so. */
async function build(page) {
  const key = page.getByRole('button', { name: 'Build to this height' })
  await answered(page, 'write', () => key.tap())
  await key.waitFor({ state: 'detached' })
}

test('the best height holds 43-7/8: nothing cut, the doorway up 1/4 and 3/8', async () => {
  const { page } = await openHeight()
  assert.equal(await title(page), 'Hold 43-7/8 below the line')
  const text = await said(page.locator('section').first())
  assert.match(text, /Level, nothing cut\. Seven strips, one sister and nothing cut\./)
  assert.match(text, /The doorway rises 1\/4 in at one jamb and 3\/8 in at the other; 3\/8 in allowed\./)
  assert.match(text, /Nobody has looked at the framing/)
  assert.deepEqual(page.wrong, [])
})

test('the alternatives stand side by side, with what they need marked', async () => {
  const { page } = await openHeight()
  const rows = await eachSaid(page.locator('[data-alternative]'))
  assert.equal(rows.length, 4, rows.join('\n'))
  assert.match(rows[0], /^Level, nothing cut best hold 43-7\/8 door 1\/4 · 3\/8 strips 7 sisters 1 cuts 0$/)
  assert.match(
    await said(alternative(page, 'level-by-approval')),
    /hold 44 door 1\/8 · 1\/4 strips 7 sisters 1 cuts 1 needs a recorded approval$/,
  )
  assert.match(
    await said(alternative(page, 'level-sister-high')),
    /hold 44-1\/8 door 0 · 1\/8 strips \d sisters 2 cuts 1 needs a recorded approval$/,
  )
  assert.match(await said(alternative(page, 'flat-not-level')), /hold – door 0 · 1\/8 .* dry rooms only$/)
  const best = await page.locator('[data-alternative]').filter({ hasText: 'best' }).count()
  assert.equal(best, 1)
})

test('one that tilts says how, and that spilled water heads for the low side', async () => {
  const { page } = await openHeight()
  await press(page, alternative(page, 'flat-not-level'))
  assert.equal(await title(page), 'Flat, not level')
  const text = await said(page.locator('section').first())
  assert.match(text, /It runs up 3\/8 in in 90 in from the door wall\./)
  assert.match(text, /Spilled water heads for the low side/)
})

test('a sixteenth higher is over what the door takes; a sixteenth lower needs the engineer', async () => {
  const { page, room } = await openHeight()
  await hold(page, 'higher +1/16')
  assert.equal(await title(page), 'Hold 43-13/16 below the line')
  assert.match(
    await said(page.locator('section').first()),
    /The doorway rises 7\/16 in; the hall floor leaves 3\/8 in\./,
  )
  await hold(page, 'lower −1/16')
  assert.equal(await title(page), 'Hold 43-7/8 below the line')
  await hold(page, 'lower −1/16')
  assert.equal(await title(page), 'Hold 43-15/16 below the line')
  assert.match(await said(page.locator('section').first()), /Not to be cut yet: J4\./)
  await hold(page, 'high point')
  assert.equal(await title(page), 'Hold 43-7/8 below the line')
  await hold(page, 'least work')
  assert.equal(await title(page), 'Hold 44 below the line')
  await hold(page, 'door limit')
  assert.equal(await title(page), 'Hold 43-7/8 below the line')
  assert.equal((await ask(page, 'room', { room })).target, null, 'looking chooses nothing')
})

test('a height that is chosen stays chosen', async () => {
  const { page, room } = await openHeight()
  await press(page, alternative(page, 'level-sister-high'))
  await build(page)
  assert.deepEqual((await ask(page, 'room', { room })).target.alternative, 'level-sister-high')
  await page.reload()
  await page.waitForSelector('#hold')
  await shown(page)
  assert.equal(await title(page), 'Hold 44-1/8 below the line')
})

test('a height held between the alternatives can be chosen, and its cut list is that of the height', async () => {
  const { page } = await openHeight()
  await hold(page, 'higher +1/16')
  await build(page)
  await page.getByRole('link', { name: 'Cut list' }).tap()
  await page.waitForSelector('#cut-list')
  await shown(page)
  assert.equal(await said(page.locator('#cut-list')), 'Hold 43-13/16 below the line')
})

test('the cut list: J4 in two strips, J6 sistered, each figure under its station', async () => {
  const { page } = await openCutList()
  assert.match(await said(joist(page, 'J4')), /^J4 two strips, 45 in and 24 in/)
  const figures = await eachSaid(joist(page, 'J4').locator('text'))
  assert.deepEqual(figures, ['3/8', '0', '1/8', '30', '1/16', '45', '1/16', '66', '5/16', '90'])
  assert.match(await said(joist(page, 'J6')), /^J6 sister/)
  assert.match(await said(joist(page, 'J6')), /bearing to bearing.*find the cables and pipes/)
  assert.match(await said(joist(page, 'J1')), /^J1 strip, 90 in/)
  for (const id of ['J1', 'J4', 'J6']) await assertLabels(joist(page, id).locator('.drawing svg'))
  assert.match(await said(page.locator('section')), /Nobody has looked at the framing/)
  assert.match(await said(page.locator('section')), /hidden nails, lead paint, asbestos, silica/)
  await assertFits(page)
})

test('the whole row is the tick, and ticks are kept', async () => {
  const { page, room } = await openCutList()
  assert.match(await said(page.locator('.count')), /0 of 7 done/)
  const box = await joist(page, 'J1').boundingBox()
  assert.ok(box.width >= 350 && box.height >= 56)
  await answered(page, 'write', () => page.touchscreen.tap(box.x + 60, box.y + box.height / 2))
  await page.waitForSelector('[data-joist="J1"][aria-checked="true"]')
  await answered(page, 'write', () => joist(page, 'J6').tap())
  await page.waitForSelector('[data-joist="J6"][aria-checked="true"]')
  await page.reload()
  await page.waitForSelector('[data-joist="J1"][aria-checked="true"]')
  assert.match(await said(page.locator('.count')), /2 of 7 done/)
  await answered(page, 'write', () => joist(page, 'J1').tap())
  await page.waitForSelector('[data-joist="J1"][aria-checked="false"]')
  assert.deepEqual((await ask(page, 'room', { room })).done, ['cut-list/J6'])
})

test('what may not be done stays at the foot, and a cut without an approval cannot be ticked away', async () => {
  const { page, room } = await openCutList()
  const foot = page.locator('[data-part="forbidden"]')
  assert.match(await said(foot), /^J4 is not to be planed without a recorded approval\./)
  for (const part of [0, 0.5, 1]) {
    await page.evaluate((part) => scrollTo(0, part * document.documentElement.scrollHeight), part)
    await shown(page)
    const { y, height } = await foot.boundingBox()
    assert.ok(y > 500 && y + height <= 781, `at ${y}`)
  }
  await visit(page, `#/rooms/${room}/cut-list/level-by-approval`)
  await joist(page, 'J4').getByText('not to be cut without a recorded approval').waitFor()
  assert.equal(await page.locator('[role="checkbox"][data-joist="J4"]').count(), 0)
  assert.equal(await page.locator('[role="checkbox"][data-joist="J5"]').count(), 1)
})

test('with an approval on record the cut is let through, with whose it is', async () => {
  const { page, room } = await openCutList()
  const approval = { id: crypto.randomUUID(), joist: 'J4', depth: 3.175, from: 27 * 25.4, to: 75 * 25.4 }
  const signed = { by: 'R. Hale, engineer', date: '2026-03-20', reference: 'letter 7' }
  await write(page, room, 'approval-add', { approval: { ...approval, ...signed } })
  await page.reload()
  await page.waitForSelector('#cut-list')
  await shown(page)
  assert.equal(await said(page.locator('#cut-list')), 'Hold 44 below the line', 'the approval makes 44 the best')
  await joist(page, 'J4').getByText('Approved by R. Hale, engineer, 2026-03-20, letter 7').waitFor()
  assert.equal(await page.locator('[role="checkbox"][data-joist="J4"]').count(), 1)
  assert.match(await said(joist(page, 'J4')), /pull nails, find cables and pipes/)
  const foot = await said(page.locator('[data-part="forbidden"]'))
  assert.match(foot, /^J4 is cut only as approved: 1\/8 in deep at most, from 27 to 75 in\./)
})

test('targets are large and apart, and no rule of access is broken, in both themes', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page, room } = await openHeight({ colorScheme })
    for (const hash of ['height', 'cut-list', 'cut-list/level-by-approval']) {
      await visit(page, `#/rooms/${room}/${hash}`)
      await page.waitForSelector(hash === 'height' ? '#hold' : '#cut-list')
      await assertTargets(page)
      await assertFits(page)
      await assertAccessible(page)
    }
    assert.deepEqual(page.wrong, [])
  }
})

test('on a wide screen the cut list stands beside the heights, and the slider moves them', async () => {
  const { page } = await openHeight({ width: 1280, height: 800 })
  const [left, right] = [await page.locator('.choice').boundingBox(), await page.locator('.work').boundingBox()]
  assert.ok(left.x + left.width <= right.x + 1)
  await page.getByRole('slider').focus()
  await page.keyboard.press('ArrowRight')
  await shown(page)
  assert.match(await title(page), /43-13\/16/)
  await shown(page)
  assert.match(await said(page.locator('[data-joist="J3"]')), /7\/16/)
})

test('a room without readings says what is missing', async () => {
  const { page } = await unread('height')
  await page.getByText('There is no height to choose yet').waitFor()
  assert.equal(await page.getByRole('link', { name: 'Start reading' }).count(), 1)
})

test('a height that could not be kept says so, and the choice is still there', async () => {
  const { page, room } = await openHeight()
  await page.route('**/dispatch/write', (route) => route.abort())
  await page.getByRole('button', { name: 'Build to this height' }).tap()
  await page.waitForSelector('[role="alert"]')
  await page.unroute('**/dispatch/write')
  await page.getByRole('button', { name: 'Try again' }).tap()
  await page.getByRole('button', { name: 'Build to this height' }).waitFor({ state: 'detached' })
  assert.equal((await ask(page, 'room', { room })).target.alternative, 'level-nothing-cut')
})
