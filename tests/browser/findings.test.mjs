// What the demo room's readings say on the screen: verdict, what to do, map, profiles, table, evidence.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { eachSaid, openDemo, said } from './demo.mjs'
import { go, press, shown, visit, write } from './host.mjs'
import { assertAccessible, assertFits, assertLabels, assertTargets } from './measure.mjs'
import { newRoom } from './rooms.mjs'

const { begin, unread } = bench()

async function openFindings(size) {
  const page = await begin(size)
  return { page, room: await openDemo(page, 'findings') }
}

const tab = (page, name) => press(page, page.getByRole('tab', { name, exact: true }))
const map = (page) => page.locator('figure > svg')
const row = (page, kind, text) => page.locator(`[data-kind="${kind}"]`).filter({ hasText: text })

test('the verdict stands first, and below it what to do in the order it is done', async () => {
  const { page } = await openFindings()
  assert.equal(await said(page.locator('#headline')), 'Out: two joists. The rest is one even slope.')
  const tasks = await eachSaid(page.locator('ol .task'))
  assert.match(tasks[0], /Look underneath J6 by the door wall for a notch, split or cut before anything else/)
  assert.equal(tasks.filter((task) => task.includes('Look underneath')).length, 1)
  assert.ok(tasks.some((task) => /Ask an engineer about J6/.test(task)))
  assert.ok(tasks.some((task) => /Look at the framing/.test(task)))
  const governs = /J4 governs: slide the rule along J4 from 30 to 90 in and read the smallest number: where is it\?/
  assert.ok(
    tasks.some((task) => governs.test(task)),
    tasks.join('\n'),
  )
  assert.deepEqual(page.wrong, [])
})

test('the bar across at 60 shows 11/16, with its uncertainty, its limit, where that comes from, and noise alone', async () => {
  const { page } = await openFindings()
  const worst = await said(row(page, 'straightedge-across', '8 ft straightedge across at 60 in'))
  assert.match(worst, /8 ft straightedge across at 60 in/)
  assert.match(worst, /11\/16 in ±1\/\d+ in/)
  assert.match(worst, /out · limit 1\/8 in under 8 ft · common practice · noise alone shows \d+\/\d+ to \d+\/\d+ in/)
  assert.match(await said(map(page)), /gap 11\/16/)
})

test('J4 is chalked high and J6 low, with their distances from two walls', async () => {
  const { page } = await openFindings()
  assert.equal(await map(page).locator('[data-mark="high"][data-name="J4"]').count(), 1)
  assert.equal(await map(page).locator('[data-mark="low"][data-name="J6"]').count(), 1)
  assert.match(await said(map(page)), /7\/16 high/)
  assert.match(await said(map(page)), /9\/16 low/)
  assert.deepEqual(await eachSaid(page.locator('.view ul').first().locator('li')), [
    'X J4 7/16 in high left wall 48 in · door wall 60 in',
    'O J6 9/16 in low left wall 80 in · door wall 60 in',
  ])
  assert.match(await map(page).getAttribute('aria-label'), /High: J4 7\/16 in\. Low: J6 9\/16 in\./)
})

test('a 2 ft bar is not tested, and it is said why', async () => {
  const { page } = await openFindings()
  const short = await said(row(page, 'straightedge-along', '2 ft bar').first())
  assert.match(short, /Readings 30 in apart cannot test a 2 ft bar/)
  assert.match(short, /not tested/)
})

test('what is too close to call names the readings to take again', async () => {
  const { page } = await openFindings()
  assert.match(
    await said(row(page, 'crown-or-sag', 'J2').first()),
    /too close to call .* Read again: J2 at 60, 0 and 90\./,
  )
})

test('a finding that is pressed is shown on the map, and pressing it again lets it go', async () => {
  const { page } = await openFindings()
  await tab(page, 'table')
  const finding = row(page, 'of-the-rest', 'J6')
  await press(page, finding)
  assert.equal(await finding.getAttribute('aria-pressed'), 'true')
  assert.ok((await map(page).locator('.ring').count()) > 0)
  assert.equal(await map(page).locator('.joist.chosen').count(), 1)
  await press(page, finding)
  assert.equal(await finding.getAttribute('aria-pressed'), 'false')
  assert.equal(await map(page).locator('.ring').count(), 0)
})

test('labels keep clear of one another and inside the map, whole and enlarged', async () => {
  const { page } = await openFindings()
  await assertLabels(map(page))
  for (let step = 0; step < 3; step += 1) {
    await press(page, page.getByRole('button', { name: 'Larger' }))
    await assertLabels(map(page), 2)
  }
  await press(page, page.getByRole('button', { name: 'Smaller' }))
  await assertFits(page)
})

test('two fingers enlarge the map, and one then moves it', async () => {
  const { page } = await openFindings()
  await map(page).scrollIntoViewIfNeeded()
  const { x, y } = await map(page).boundingBox()
  const fingers = await page.context().newCDPSession(page)
  const touch = (type, ...at) =>
    fingers.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: at.map((right, id) => ({ x: x + right, y: y + 150, id })),
    })
  await touch('touchStart', 170, 230)
  for (let step = 1; step <= 10; step += 1) await touch('touchMove', 170 - 5 * step, 230 + 5 * step)
  await touch('touchEnd')
  await shown(page)
  assert.ok(await page.getByRole('button', { name: 'Smaller' }).isEnabled())
  const before = await map(page).locator('.to-wall').getAttribute('d')
  await touch('touchStart', 200)
  for (let step = 1; step <= 6; step += 1) await touch('touchMove', 200 - 8 * step)
  await touch('touchEnd')
  await shown(page)
  assert.notEqual(await map(page).locator('.to-wall').getAttribute('d'), before)
})

test('along and across, the straightedge rests where the gap is largest', async () => {
  const { page } = await openFindings()
  await tab(page, 'along')
  const joists = page.locator('.view li')
  assert.equal(await joists.count(), 7)
  assert.match(
    await said(page.locator('.view p')),
    /Heights are drawn \d+ times larger than lengths, the same for all\./,
  )
  assert.equal(await joists.nth(3).locator('[data-mark="high"]').count(), 1)
  assert.match(
    await joists.nth(5).locator('svg').getAttribute('aria-label'),
    /J6: the straightedge shows 9\/16 at 60 in/,
  )
  await assertLabels(joists.nth(5).locator('svg'))
  await tab(page, 'across')
  const rows = page.locator('.view li')
  assert.equal(await rows.count(), 4)
  assert.match(
    await rows.nth(2).locator('svg').getAttribute('aria-label'),
    /across at 60 in: the straightedge shows 11\/16 at 80 in/,
  )
  await assertLabels(rows.nth(2).locator('svg'))
  await assertFits(page)
})

test('the table says the same as the map', async () => {
  const { page } = await openFindings()
  await tab(page, 'table')
  assert.match(await said(page.locator('tbody tr').nth(3)), /^J4 44-1\/4 .* 44 .*X 43-7\/8/)
  assert.match(await said(page.locator('tbody tr').nth(5)), /O 45 −\d+\/\d+/)
  assert.equal(await page.locator('tbody tr').count(), 7)
  await assertFits(page)
})

test('targets are large and apart, and no rule of access is broken, in both themes and every view', async () => {
  for (const colorScheme of ['light', 'dark']) {
    const { page } = await openFindings({ colorScheme })
    for (const name of ['map', 'along', 'across', 'table']) {
      await tab(page, name)
      await assertTargets(page)
      await assertFits(page)
      await assertAccessible(page)
    }
    assert.deepEqual(page.wrong, [])
  }
})

test('on a wide screen the map stands beside the list', async () => {
  const { page } = await openFindings({ width: 1280, height: 800 })
  const [left, right] = [await page.locator('.views').boundingBox(), await page.locator('.evidence').boundingBox()]
  assert.ok(left.x + left.width <= right.x + 1, 'side by side')
  assert.ok(left.y < 120, 'the map begins at the top')
  await assertLabels(map(page))
})

test('a room without readings says what to read', async () => {
  const { page } = await unread('findings')
  assert.match(await said(page.locator('main h2')), /Nothing read yet/)
  assert.equal(await page.getByRole('link', { name: 'Start reading' }).count(), 1)
  assert.deepEqual(page.wrong, [])
})

test('while the core is silent it says so, and tries again when asked', async () => {
  const page = await begin()
  const room = await openDemo(page)
  await page.route('**/dispatch/findings', (route) => route.abort())
  await go(page, `#/rooms/${room}/findings`)
  await page.waitForSelector('[role="alert"]')
  await page.unroute('**/dispatch/findings')
  await page.getByRole('button', { name: 'Try again' }).tap()
  await page.waitForSelector('#headline')
})

/** A floor of 8 by 8 feet read every foot, flat but for one place; `sd_mm` is how well it was read. */
async function lowFloor(page) {
  const created = '2036-03-02T08:15:00Z'
  const room = await newRoom(page, { name: 'Guest bath', created })
  const inch = 25.4
  const feet = Array.from({ length: 9 }, (_, i) => i * 12 * inch)
  const points = feet.flatMap((y, k) => feet.map((x, i) => ({ id: `${i}.${k}`, survey: 'floor', x, y })))
  const surveys = [{ id: 'floor', name: 'floor', surface: 'floor' }]
  const walls = { base_wall: 'door wall', side_wall: 'left wall', joists_along: 'y' }
  const [right, far] = [feet[8], feet[8]]
  const outline = [
    [0, 0],
    [right, 0],
    [right, far],
    [0, far],
  ]
  await write(page, room, 'plan-set', { plan: { outline, ...walls, surveys, points } })
  await write(page, room, 'tile-set', { tile: { name: '24 in', longest_edge: 24 * inch } })
  const [setup, sd_mm] = ['S1', 0.15]
  const opening = { text: '44', mm: 44 * inch, at: created }
  const stand = { instrument: 'laser and rod', sd_mm, benchmark: { name: 'door mark', height: 0 }, opening }
  await write(page, room, 'setup-open', { setup, survey: 'floor', ...stand })
  for (const { id } of points) {
    const inches = id === '4.3' ? 44.1875 : 44
    const given = { setup, point: id, sense: 'down', sd_mm, source: 'typed', reading: crypto.randomUUID() }
    await write(page, room, 'reading-add', { ...given, entered: `${inches}`, value: inches * inch })
  }
  return room
}

test('a floor that is out is not ready for its tile, and its low is told from two walls; its words are explained', async () => {
  const page = await begin()
  await visit(page, `#/rooms/${await lowFloor(page)}/findings`)
  await page.waitForSelector('#headline')
  assert.equal(
    await said(page.locator('#headline')),
    'Not ready for 24 in tile: one low of 3/16 in, 36 in from the door wall, 48 in from the left wall.',
  )
  await page.getByText('What these words mean').tap()
  await page.getByText('A rigid bar resting on two high points.').waitFor()
  await shown(page)
  await assertTargets(page)
  await assertAccessible(page)
})
