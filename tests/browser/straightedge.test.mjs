// The straightedge walk by taps alone: one tap a place, the gauge decides, nothing is lost.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench, takeBack } from './bench.mjs'
import { answered, ask, press, tap } from './host.mjs'
import { eachSaid, said } from './demo.mjs'

const INCH = 25.4

const { open } = bench()

async function startWalk(size) {
  const { page, room } = await open('kestrel', 'straightedge', size)
  await page.waitForSelector('[data-place="1"]')
  return { page, room }
}

const walk = (page, room) => ask(page, 'straightedge-walk', { room })

test('six to ten places, both diagonals among them, each with where to look and what to expect', async () => {
  const { page, room } = await startWalk()
  const { placements } = await walk(page, room)
  const rows = await eachSaid(page.locator('ol button'))
  assert.equal(rows.length, placements.length)
  assert.ok(rows.length >= 6 && rows.length <= 10, `${rows.length} places`)
  assert.ok(rows.some((row) => /on the diagonal/.test(row)) && rows.some((row) => /on the other diagonal/.test(row)))
  assert.ok(
    rows.some((row) => /8 ft bar across heights say 11\/16 in/.test(row)),
    rows.join('\n'),
  )
  assert.match(await said(page.locator('[data-place] dl')), /^From left wall .* door wall .* to left wall .* door wall/)
})

test('a tap on a gauge keeps it and goes on; at the end the gauges decide', async () => {
  const { page, room } = await startWalk()
  const { placements } = await walk(page, room)
  for (let number = 1; number <= placements.length; number += 1) {
    await page.waitForSelector(`[data-place="${number}"] [data-ready="true"]`)
    await tap(page, page.locator('[data-gauge="0"]'))
  }
  await page.waitForSelector('[data-outcome="within"]')
  assert.match(await said(page.locator('[data-outcome]')), /Flat enough everywhere/)
  const after = await walk(page, room)
  assert.ok(after.placements.every(({ gauged }) => gauged.entered === '0' && gauged.verdict === 'within'))
  const view = await ask(page, 'room', { room })
  assert.equal(view.surveys[0].read, 28, 'a gap takes the place of no height')
  assert.equal(view.surveys[0].points.find(({ id }) => id === 'J4@60').reading.entered, '43-7/8')
  assert.deepEqual(page.wrong, [])
})

test('rocking is kept, a larger gauge is out, gauging again keeps both, undo takes back', async () => {
  const { page, room } = await startWalk()
  await press(page, page.getByRole('radio', { name: 'Yes' }))
  await press(page, page.getByRole('button', { name: 'Larger' }))
  await answered(page, 'write', () => page.locator(`[data-gauge="${INCH / 4}"]`).tap())
  await page.waitForSelector('[data-place="2"]')
  let [first] = (await walk(page, room)).placements
  assert.deepEqual([first.gauged.entered, first.gauged.rocked, first.gauged.verdict], ['1/4', true, 'out'])
  assert.match(await said(page.locator('ol button').first()), /out · limit 1\/8 in · rocked 1\/4 in/)

  await press(page, page.locator('ol button').first())
  await page.waitForSelector('[data-place="1"] [data-ready="true"]')
  assert.match(await said(page.locator('[data-place]')), /Gauged 1\/4 in/)
  await answered(page, 'write', () => page.locator(`[data-gauge="${INCH / 16}"]`).tap())
  await page.waitForSelector('[data-place="2"]')
  ;[first] = (await walk(page, room)).placements
  assert.deepEqual([first.gauged.entered, first.gauged.verdict], ['1/16', 'within'])
  const { text } = await ask(page, 'room-export', { room })
  const gaps = JSON.parse(text).readings.filter(({ sense }) => sense === 'gap')
  assert.deepEqual(
    gaps.map(({ entered }) => entered),
    ['1/4', '1/16'],
  )

  await takeBack(page)
  await page.waitForFunction(() => document.querySelector('ol button')?.textContent.includes('1⁄4'))
  ;[first] = (await walk(page, room)).placements
  assert.equal(first.gauged.entered, '1/4')
  assert.deepEqual(page.wrong, [])
})

test('what was gauged last stands beside its undo, and a bounce of the glove does not gauge the next place', async () => {
  const { page, room } = await startWalk()
  const click = (after) =>
    page.evaluate((after) => {
      const event = new MouseEvent('click', { bubbles: true, detail: 1 })
      window.firstClick ??= event.timeStamp
      Object.defineProperty(event, 'timeStamp', { value: window.firstClick + after })
      document.querySelector('[data-gauge="0"]').dispatchEvent(event)
    }, after)
  await click(0)
  await page.waitForSelector('[data-place="2"]')
  assert.equal(await said(page.locator('.undo p')), 'Place 1: 0 in kept.')
  await click(100)
  await page.waitForSelector('[data-place="2"] [data-ready="true"]')
  await page.locator('[data-gauge="0"]').tap()
  await page.waitForSelector('[data-place="3"]')
  assert.equal((await walk(page, room)).gauged, 2)
})

test('the gauges are large and in sight of a thumb', async () => {
  const { page } = await startWalk()
  for (const key of await page.locator('.gauges button').all()) {
    const { width, height } = await key.boundingBox()
    assert.ok(width >= 80 && height >= 72, `${width} × ${height}`)
  }
})
