// What a cut list takes, where the drain may go, whether ledges shed water, and how tiles come out.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { alert, bench, keep, unfold, works } from './bench.mjs'
import { eachSaid, said } from './demo.mjs'
import { answered, ask, inches, press, put, shown, visit, write } from './host.mjs'
import { assertAccessible, assertFits, assertMargins, assertTargets } from './measure.mjs'

const { open } = bench()

/** How far the drain lies from the base wall, or, in the second place, the waste pipe. */
const fromBase = (page, what) =>
  what === 'drain' ? page.getByLabel('From the base wall').first() : page.getByLabel('From the base wall').nth(1)

test('the cut list takes one board and a sister of twelve feet, in order', async () => {
  const { page } = await open('kestrel', 'cut-list')
  await page.getByRole('link', { name: 'Boards, shopping, order' }).tap()
  await page.locator('[data-part="order"]').waitFor()
  await shown(page)
  const order = await page.locator('[data-step]').evaluateAll((all) => all.map((one) => one.dataset.step))
  assert.deepEqual(order, ['sister', 'read-again', 'rip', 'fix', 'check'])
  const shopping = await said(page.locator('[data-part="shopping"]'))
  assert.match(shopping, /one board, 3-1\/2 in wide and 96 in long/)
  assert.match(shopping, /Sister for J6: 9-1\/4 in deep, 144 in long.*Cut to 141 in/)
  assert.equal(await page.locator('[data-part="boards"] .strip').count(), 7)
  assert.deepEqual(page.wrong, [])
})

test('a strip of one thickness may come from a sheet that measures so, by a list of one’s own', async () => {
  const { page, room } = await open('kestrel', 'cutting')
  const offer = page.locator('[data-offer="J3"]')
  assert.match(await said(offer), /J3 is one thickness: 3\/8 in, which measures 11\/32 in, 90 in long/)
  assert.match(await said(offer), /It stays 1\/32 in under the line\./)
  await press(page, page.getByRole('radio', { name: 'Take the piece' }))
  assert.equal(await page.locator('[data-part="boards"] .strip').count(), 6)
  assert.match(await said(offer), /Sheet for J3: 3\/8 in, which measures 11\/32 in/)
  await keep(page)
  assert.equal((await works(page, room)).stock.in_place, true)
  const stock = page.locator('[data-part="stock"]')
  await press(page, stock.locator('summary'))
  assert.match(await said(stock), /Your own list\./)
  const measures = stock.getByLabel('Measures')
  await put(page, measures.nth(6), '0')
  assert.match(await said(alert(page)), /thickness of piece 7 must be more than zero/)
  await put(page, measures.nth(6), '23/64')
  assert.match(await said(offer), /measures 23\/64 in/)
  await keep(page)
  await answered(page, 'write', () => page.getByRole('button', { name: 'Take the common list again' }).tap())
  assert.equal(await page.locator('[data-part="boards"] .strip').count(), 7)
  assert.equal((await works(page, room)).stock, undefined)
})

test('templates at full size are a file to save', async () => {
  const { page } = await open('kestrel', 'cutting')
  const download = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Templates at full size (PDF)' }).tap()
  assert.match((await download).suggestedFilename(), /^kestrel-lane-hall-bath-strips\.pdf$/)
})

test('a cut that nobody approved is asked about first and is on no board', async () => {
  const { page } = await open('kestrel', 'cutting/level-by-approval')
  await page.locator('[data-step="ask-engineer"]').waitFor()
  assert.match(await said(page.locator('[data-step="ask-engineer"]')), /J4/)
  const strips = await eachSaid(page.locator('[data-part="boards"] .strip b'))
  assert.ok(strips.length > 0 && !strips.includes('J4'), strips.join(' '))
  assert.equal(await page.locator('[data-step="dress"]').count(), 0)
})

test('a point drain fits nowhere here; a linear one does, and a tap puts it somewhere', async () => {
  const { page } = await open('rowan', 'drain')
  await page.getByRole('heading', { name: 'Nowhere on this floor' }).waitFor()
  assert.match(await said(page.locator('[data-part="place"]')), /Its hole meets J2/)
  assert.match(await said(page.locator('[data-part="slide"]')), /whole shower moves 1-1\/4 in/)
  await put(page, fromBase(page, 'drain'), '19-1/4')
  await page.getByText('No level edge keeps both limits of the fall.').waitFor()
  assert.match(await said(page.locator('[data-part="place"]')), /the near wall falls 1:23 · 0\.532 in\/ft/)
  await press(page, page.getByRole('radio', { name: 'Linear' }))
  await page.getByRole('heading', { name: /of the floor is free/ }).waitFor()
  const map = page.locator('[data-part="window"] > svg')
  const box = await map.boundingBox()
  await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height * 0.28)
  await page.waitForFunction(() => !document.querySelector('[data-part="place"]').textContent.includes('No level edge'))
})

test('a linear drain says that its trough is not checked until its size is put in, and then checks it', async () => {
  const { page, room } = await open('rowan', 'drain')
  await press(page, page.getByRole('radio', { name: 'Linear' }))
  const trough = page.locator('[data-part="trough"]')
  assert.match(await said(trough), /Its outlet alone is checked/)
  await put(page, fromBase(page, 'drain'), '10')
  await put(page, trough.getByLabel('Depth, from its grate down'), '3')
  await put(page, trough.getByLabel('Width of its body'), '12')
  assert.match(await said(trough), /It hangs 1-7\/8 in below the tops of the joists/)
  await page.getByText(/Its trough hangs below the tops of/).waitFor()
  assert.match(await said(page.locator('[data-part="place"]')), /below the tops of J2: never cut a joist/)
  await put(page, trough.getByLabel('Depth, from its grate down'), '1')
  assert.match(await said(trough), /The floor over the joists holds it, with 1\/8 in to spare/)
  await put(page, trough.getByLabel('Depth, from its grate down'), '0')
  assert.match(await said(alert(page)), /Its trough” must be wider and deeper than nothing/)
  assert.equal((await works(page, room)).fall, undefined)
})

test('a place that was found goes onto the plan, a line from wall to wall', async () => {
  const { page, room } = await open('rowan', 'drain')
  await press(page, page.getByRole('radio', { name: 'Linear' }))
  await put(page, fromBase(page, 'drain'), '24')
  const onPlan = page.getByRole('button', { name: 'Put the drain here on the plan' })
  await answered(page, 'write', () => onPlan.tap())
  await onPlan.waitFor({ state: 'detached' })
  const { drain } = (await ask(page, 'room', { room })).plan
  assert.deepEqual(
    [drain.from, drain.to].map((end) => end.map(Math.round)),
    [
      [0, 610],
      [1524, 610],
    ],
  )
})

test('a tap lands where it is seen, in a room that is deeper than it is wide, too', async () => {
  const { page, room } = await open('rowan', 'drain', { width: 1280, height: 800 })
  const { plan } = await ask(page, 'room', { room })
  const wide = 900
  const outline = [
    [0, 0],
    [wide, 0],
    [wide, 3000],
    [0, 3000],
  ]
  const drain = { from: [450, 1500] }
  await write(page, room, 'plan-set', { plan: { ...plan, outline, drain, entry: null } })
  const floor = page.locator('[data-part="window"] svg path.walls')
  await page.waitForFunction(() => document.querySelector('path.walls').getAttribute('d').includes('3000'))
  await page.waitForFunction(() => document.querySelector('circle.hole').getAttribute('cy') === '1500')
  await shown(page)
  await floor.scrollIntoViewIfNeeded()
  const box = await floor.boundingBox()
  await page.touchscreen.tap(box.x + box.width / 4, box.y + (box.height * 3) / 4)
  await page.waitForFunction(() => document.querySelector('circle.hole').getAttribute('cx') !== '450')
  const [x, y] = await page
    .locator('circle.hole')
    .evaluate((hole) => [hole.getAttribute('cx'), hole.getAttribute('cy')].map(Number))
  // Seven millimetres to a pixel.
  assert.ok(Math.abs(x - wide / 4) < 45 && Math.abs(y - 750) < 45, `${x} ${y}`)
})

test('a trap arm that is too long bars a place', async () => {
  const { page, room } = await open('rowan', 'drain')
  await page.getByText('Waste pipe').tap()
  await put(page, page.getByLabel('From the side wall').nth(1), '0')
  await put(page, fromBase(page, 'waste pipe'), '0')
  await put(page, page.getByLabel('Trap arm at most'), '12')
  await keep(page)
  await page.getByText('Its trap arm is longer than you allow.').waitFor()
  assert.equal((await works(page, room)).fall.trap_arm, inches(12))
})

test('a bench is added, read, judged and kept; a level sill holds water', async () => {
  const { page, room } = await open('rowan', 'ledges')
  await press(page, page.getByRole('button', { name: 'bench' }))
  const bench = page.locator('[data-ledge="bench"]')
  assert.match(await said(bench), /not read yet/)
  await put(page, bench.getByLabel('Back, down from the line'), '30')
  await put(page, bench.getByLabel('Front, down from the line'), '30-5/16')
  await bench.getByText('within ·').waitFor()
  await press(page, page.getByRole('button', { name: 'window sill' }))
  const sill = page.locator('[data-ledge="sill"]')
  await put(page, sill.getByLabel('Or the level’s angle'), '0')
  await sill.getByText('Water stays on it').waitFor()
  await keep(page)
  assert.equal((await works(page, room)).ledges.length, 2)
  await put(page, bench.getByLabel('Depth, back to front'), '0')
  assert.match(await said(alert(page)), /bench: depth must be more than zero/)
  assert.equal((await works(page, room)).ledges.length, 2)
})

test('tiles: equal cuts, an order, a niche at a joint, lippage judged, and sizes that are none', async () => {
  const { page, room } = await open('banksia', 'tiles')
  await page.getByRole('button', { name: 'Start with a floor and a wall' }).tap()
  const wall = page.locator('[data-surface="back wall"]')
  await wall.getByText('24 pieces, 12 of them cut').waitFor()
  await shown(page)
  assert.match(await said(wall), /four whole tiles, cuts 286\.5 mm and 286\.5 mm/)
  await page.getByRole('button', { name: 'Put a niche in the first wall' }).tap()
  const niche = page.locator('[data-part="niche"]')
  await niche.getByText('Frame the opening from').waitFor()
  await niche.getByLabel('Middle, from the wall’s end').fill('99999')
  await niche.getByText('Its opening reaches over an edge of the wall').waitFor()
  await niche.getByRole('button', { name: 'Center it on the wall' }).tap()
  await niche.getByText('Its opening reaches over').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Add a place' }).tap()
  await page.getByLabel('Step').fill('2.5')
  await page.locator('[data-part="lippage"] li').getByText('out ·').waitFor()
  await keep(page)
  assert.equal((await works(page, room)).tiling.lippage[0].step, 2.5)
  await put(page, page.getByLabel('Width', { exact: true }), '0')
  assert.match(await said(alert(page)), /“Width” must be more than zero/)
  const warp = page.getByLabel('The tile’s own warp')
  await put(page, page.getByLabel('Width', { exact: true }), '300')
  await alert(page).waitFor({ state: 'detached' })
  await put(page, warp, '-5')
  assert.match(await said(alert(page)), /own warp” must be zero or more/)
  assert.equal(await warp.inputValue(), '-5', 'what was typed stands where it was typed')
  await put(page, warp, '0.5')
  await put(page, page.getByLabel('Width', { exact: true }), '290')
  await alert(page).waitFor({ state: 'detached' })
  assert.equal((await works(page, room)).tiling.wide, 300, 'what was kept stands')
})

test('a whole tile at the drain may leave a sliver, which is said', async () => {
  const { page } = await open('banksia', 'tiles')
  await page.getByRole('button', { name: 'Start with a floor and a wall' }).tap()
  const wall = page.locator('[data-surface="back wall"]')
  await wall.getByText('24 pieces').waitFor()
  await put(page, wall.getByLabel('Wide'), '1548')
  await press(page, wall.getByRole('radio', { name: 'whole first' }).first())
  await wall.getByText('A cut is narrower than you want').waitFor()
})

test('the rise at a fixture stands with each height, and what the door leaves counts where the plan is silent', async () => {
  const { page, room } = await open('kestrel', 'height')
  await press(page, page.getByText('What the door leaves'))
  const part = page.locator('[data-part="at-the-door"]')
  assert.match(await said(part), /The plan says the floor may rise 3\/8 in; that counts\./)
  const { plan } = await ask(page, 'room', { room })
  const toilet = { kind: 'toilet', from: [90 * 25.4, 54 * 25.4], to: [102 * 25.4, 66 * 25.4] }
  const doorway = { ...plan.doorway, budget: null }
  await write(page, room, 'plan-set', { plan: { ...plan, doorway, fixtures: [toilet] } })
  await page.locator('[data-alternative="level-nothing-cut"]').getByText('Toilet').waitFor()
  await shown(page)
  assert.match(await said(page.locator('[data-alternative="level-nothing-cut"]')), /Toilet 11\/16/)
  assert.match(await said(page.locator('[data-alternative="level-sister-high"]')), /Toilet 7\/16/)
  await put(page, part.getByLabel('Hall’s finished floor'), '1-3/4')
  await put(page, part.getByLabel('Subfloor, layers and tile to come'), '1-1/2')
  await keep(page)
  assert.match(await said(part), /1\/4/)
  assert.equal((await works(page, room)).door.hall, inches(1.75))
})

test('targets are large and apart, and no rule of access is broken, with text twice as large too', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page, room } = await open('kestrel', 'cutting', { colorScheme })
    for (const screen of ['cutting', 'drain', 'ledges', 'tiles']) {
      await visit(page, `#/rooms/${room}/${screen}`)
      await page.locator('.page section, .page button').first().waitFor()
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
