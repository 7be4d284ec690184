// What a cut list takes, where the drain may go, whether ledges shed water, and how tiles come out.
import assert from 'node:assert/strict'
import { after, before, test } from 'node:test'
import { eachSaid, said } from './demo.mjs'
import { ask, openPage, startBrowser, startHost, visit } from './host.mjs'
import { assertAccessible, assertFits, assertTargets } from './measure.mjs'

let host, browser
before(async () => {
  host = await startHost()
  browser = await startBrowser()
})
after(async () => {
  await browser?.close()
  await host?.stop()
})

async function open(name, screen, size) {
  const page = await openPage(browser, host.address, size)
  const { room } = await ask(page, 'demo', { name, id: crypto.randomUUID() })
  await visit(page, `#/rooms/${room}/${screen}`)
  return { page, room }
}

const works = async (page, room) => (await ask(page, 'room', { room })).works
const alert = (page) => page.locator('[role="alert"]').first()
const keep = async (page) => {
  await page.getByRole('button', { name: 'Keep this' }).tap()
  await page.getByRole('button', { name: 'Keep this' }).waitFor({ state: 'detached' })
}

test('the cut list takes one board and a sister of twelve feet, in order', async () => {
  const { page } = await open('kestrel', 'cut-list')
  await page.getByRole('link', { name: 'Boards, shopping, order' }).tap()
  await page.locator('[data-part="order"]').waitFor()
  const order = await page.locator('[data-step]').evaluateAll((all) => all.map((one) => one.dataset.step))
  assert.deepEqual(order, ['sister', 'read-again', 'rip', 'fix', 'check'])
  const shopping = await said(page.locator('[data-part="shopping"]'))
  assert.match(shopping, /one board, 3-1\/2 in wide and 96 in long/)
  assert.match(shopping, /Sister for J6: 9-1\/4 in deep, 144 in long.*Cut to 141 in/)
  assert.equal(await page.locator('[data-part="boards"] .strip').count(), 7)
  assert.deepEqual(page.wrong, [])
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
  await page.getByLabel('From the base wall').first().fill('19-1/4')
  await page.getByText('No level edge keeps both limits of the fall.').waitFor()
  assert.match(await said(page.locator('[data-part="place"]')), /the near wall falls 1:23 · 0\.532 in\/ft/)
  await page.getByLabel('Linear').check({ force: true })
  await page.getByRole('heading', { name: /of the floor is free/ }).waitFor()
  const map = page.locator('[data-part="window"] > svg')
  const box = await map.boundingBox()
  await page.touchscreen.tap(box.x + box.width / 2, box.y + box.height * 0.28)
  await page.waitForFunction(() => !document.querySelector('[data-part="place"]').textContent.includes('No level edge'))
})

test('a trap arm that is too long bars a place', async () => {
  const { page, room } = await open('rowan', 'drain')
  await page.getByText('Waste pipe').tap()
  await page.getByLabel('From the side wall').nth(1).fill('0')
  await page.getByLabel('From the base wall').nth(1).fill('0')
  await page.getByLabel('Trap arm at most').fill('12')
  await keep(page)
  await page.getByText('Its trap arm is longer than you allow.').waitFor()
  assert.equal((await works(page, room)).fall.trap_arm, 12 * 25.4)
})

test('a bench is added, read, judged and kept; a level sill holds water', async () => {
  const { page, room } = await open('rowan', 'ledges')
  await page.getByRole('button', { name: 'bench' }).tap()
  const bench = page.locator('[data-ledge="bench"]')
  await bench.waitFor()
  assert.match(await said(bench), /not read yet/)
  await bench.getByLabel('Back, down from the line').fill('30')
  await bench.getByLabel('Front, down from the line').fill('30-5/16')
  await bench.getByText('within ·').waitFor()
  await page.getByRole('button', { name: 'window sill' }).tap()
  const sill = page.locator('[data-ledge="sill"]')
  await sill.getByLabel('Or the level’s angle').fill('0')
  await sill.getByText('Water stays on it').waitFor()
  await keep(page)
  assert.equal((await works(page, room)).ledges.length, 2)
  await bench.getByLabel('Depth, back to front').fill('0')
  await alert(page).waitFor()
  assert.match(await said(alert(page)), /bench: depth must be more than zero/)
  assert.equal((await works(page, room)).ledges.length, 2)
})

test('tiles: equal cuts, an order, a niche at a joint, lippage judged, and sizes that are none', async () => {
  const { page, room } = await open('banksia', 'tiles')
  await page.getByRole('button', { name: 'Start with a floor and a wall' }).tap()
  const wall = page.locator('[data-surface="back wall"]')
  await wall.getByText('24 pieces, 12 of them cut').waitFor()
  assert.match(await said(wall), /four whole tiles, cuts 286\.5 mm and 286\.5 mm/)
  await page.getByRole('button', { name: 'Put a niche in the first wall' }).tap()
  await page.locator('[data-part="niche"]').getByText('Frame the opening from').waitFor()
  await page.getByRole('button', { name: 'Add a place' }).tap()
  await page.getByLabel('Step').fill('2.5')
  await page.locator('[data-part="lippage"] li').getByText('out ·').waitFor()
  await keep(page)
  assert.equal((await works(page, room)).tiling.lippage[0].step, 2.5)
  await page.getByLabel('Width', { exact: true }).fill('0')
  await alert(page).waitFor()
  assert.match(await said(alert(page)), /tile: width must be more than zero/)
  await page.getByLabel('Width', { exact: true }).fill('290')
  await alert(page).waitFor({ state: 'detached' })
  assert.equal((await works(page, room)).tiling.wide, 300, 'what was kept stands')
})

test('a whole tile at the drain may leave a sliver, which is said', async () => {
  const { page } = await open('banksia', 'tiles')
  await page.getByRole('button', { name: 'Start with a floor and a wall' }).tap()
  const wall = page.locator('[data-surface="back wall"]')
  await wall.getByText('24 pieces').waitFor()
  await wall.getByLabel('Wide').fill('1548')
  await wall.getByLabel('whole first').first().check({ force: true })
  await wall.getByText('A cut is narrower than you want').waitFor()
})

test('targets are large and apart, and no rule of access is broken, with text twice as large too', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page, room } = await open('kestrel', 'cutting', { colorScheme })
    for (const screen of ['cutting', 'drain', 'ledges', 'tiles']) {
      await visit(page, `#/rooms/${room}/${screen}`)
      await page.locator('.page section, .page button').first().waitFor()
      await assertTargets(page)
      await assertAccessible(page)
      await page.evaluate(() => (document.documentElement.style.fontSize = '200%'))
      await assertFits(page)
      await page.evaluate(() => (document.documentElement.style.fontSize = ''))
    }
  }
})
