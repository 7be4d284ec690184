// Setting out a room of any shape, calling between two people, paper and pencil, words with their drawings, and the floor
// in three dimensions.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, press, shown, visit } from './host.mjs'
import { said } from './demo.mjs'
import { newRoom } from './rooms.mjs'
import { halfRead } from './screens.mjs'
import { Thumb } from './thumb.mjs'

const INCH = 25.4

const { begin, open, unread } = bench()

/** Keeps the plan, and waits until the room is shown. */
async function keepPlan(page) {
  await answered(page, 'write', () => page.getByRole('button', { name: 'Keep this plan' }).tap())
  await page.waitForSelector('main[data-page="room"]')
}

test('an L-shaped room is two taps, and no point lies in the corner it lacks', async () => {
  const page = await begin()
  const room = await newRoom(page)
  await visit(page, `#/rooms/${room}/plan`)
  await press(page, page.getByRole('radio', { name: 'L-shaped room' }))
  await keepPlan(page)
  const kept = (await ask(page, 'room', { room })).plan
  assert.equal(kept.outline.length, 6)
  assert.ok(kept.points.length > 0)
  assert.deepEqual(
    kept.points.filter(({ x, y }) => x > 60 * INCH + 1 && y > 60 * INCH + 1),
    [],
  )
  assert.deepEqual(page.wrong, [])
})

test('an alcove shower falls to its drain: set out in four taps, walked from the drain over a ring to the walls', async () => {
  const page = await begin()
  const room = await newRoom(page, { units: 'mm' })
  await visit(page, `#/rooms/${room}/plan`)
  await press(page, page.getByRole('radio', { name: 'Alcove shower' }))
  await press(page, page.getByRole('radio', { name: 'Fall to a drain' }))
  await keepPlan(page)
  await page.waitForSelector('[data-next="readings"]')
  const view = await ask(page, 'room', { room })
  assert.deepEqual(view.plan.drain.from, [750, 450])
  assert.equal(view.surveys[0].surface, 'fall')
  assert.deepEqual(view.surveys[0].points.map(({ id }) => id).slice(0, 3), ['D', 'R1', 'R2'])
  await visit(page, `#/rooms/${room}/plan`)
  await page.getByRole('radio', { name: 'Fall to a drain', checked: true }).waitFor()
  assert.deepEqual(page.wrong, [])
})

test('between two people: the point stands in giant letters, what is kept is read back, the next is called', async () => {
  const page = await begin()
  await page.evaluate(() => {
    window.spokenAloud = []
    window.speechSynthesis.speak = (utterance) => window.spokenAloud.push(`${utterance.lang}: ${utterance.text}`)
  })
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  await press(page, page.getByRole('button', { name: 'Call out' }))
  await page.waitForSelector('[data-call="J4@30"]')
  const { height } = await page.locator('[data-call] b').boundingBox()
  assert.ok(height >= 60, `${height} px tall`)
  const thumb = new Thumb(page)
  await thumb.put('44')
  await shown(page)
  const next = await page.locator('[data-key="next"]').boundingBox()
  assert.ok(next.y + next.height <= 780, `next ends at ${next.y + next.height}`)
  await thumb.tap('[data-key="next"]')
  await page.waitForSelector('[data-call="J4@60"]')
  await page.waitForFunction(() => window.spokenAloud.length > 0)
  assert.deepEqual(await page.evaluate(() => window.spokenAloud), ['en-US: J4 at 30: 44. Next, J4 at 60.'])
  await thumb.enter('43-7/8')
  await page.waitForFunction(() => window.spokenAloud.length > 1)
  assert.match(await page.evaluate(() => window.spokenAloud[1]), /J4 at 60: 43 and 7\/8\. Next, J4 at 90\./)
  await page.reload()
  await page.waitForSelector('[data-call]')
  await page.getByRole('button', { name: 'Stop calling out' }).tap()
  await page.waitForSelector('button.strip')
  assert.deepEqual(page.wrong, [])
})

test('the field sheet has a box for every point, and prints nothing that is pressed', async () => {
  const { page } = await unread('record')
  await page.getByRole('link', { name: 'Field sheet' }).tap()
  await page.waitForSelector('article')
  await shown(page)
  assert.equal(await page.locator('article td').count(), 28)
  assert.match(await said(page.locator('article tr').first()), /^J1 ?0 ?30 ?60 ?90$/)
  await page.emulateMedia({ media: 'print' })
  assert.equal(await page.locator('button, header').filter({ visible: true }).count(), 0)
  assert.ok(await page.locator('article').isVisible())
})

test('every word has its line and its drawing', async () => {
  const page = await begin()
  await page.getByRole('link', { name: 'Words and drawings' }).tap()
  await page.waitForSelector('dl')
  const all = await page.locator('dl > div').all()
  assert.ok(all.length >= 12)
  for (const one of all) {
    assert.ok((await one.locator('svg path').count()) >= 2)
    assert.ok((await said(one.locator('dd'))).length < 160)
  }
})

test('the floor is drawn in three dimensions only when asked for, or the screen says that it cannot', async () => {
  const { page, room } = await open('kestrel')
  const loaded = []
  page.on('request', (request) => loaded.push(request.url()))
  await visit(page, `#/rooms/${room}/findings`)
  await page.getByRole('link', { name: 'See it in three dimensions' }).waitFor()
  assert.ok(!loaded.some((url) => /stage-/.test(url)), 'what draws it is not fetched before')
  await page.getByRole('link', { name: 'See it in three dimensions' }).tap()
  await page.waitForFunction(
    () => document.querySelector('[data-drawn="true"]') || document.querySelector('.glass .notice'),
  )
  assert.ok(loaded.some((url) => /stage-/.test(url)))
  await press(page, page.getByRole('radio', { name: '60×' }))
  await press(page, page.getByRole('button', { name: 'Turn left' }))
  assert.match(await said(page.locator('.glass .heard')), /60 times larger/)
})

test('one practises on a tape drawn on the glass, through a whole survey, and the findings are those of the room', async () => {
  const page = await begin()
  await page.getByRole('button', { name: /Practise for five minutes/ }).tap()
  await page.getByRole('button', { name: 'Read the mark' }).tap()
  const thumb = new Thumb(page)
  const onTape = () => page.locator('[data-tape]').getAttribute('data-tape')
  await page.waitForSelector('[data-stage="opening"]')
  assert.equal(await onTape(), '44-1/4')
  await thumb.enter(await onTape())
  for (let k = 0; k < 28; k += 1) {
    await page.waitForSelector('[data-stage="reading"]')
    const point = await page.locator('[data-point]').getAttribute('data-point')
    await thumb.enter(await onTape())
    await page.waitForFunction((point) => document.querySelector('[data-point]')?.dataset.point !== point, point)
  }
  await page.waitForSelector('[data-stage="closing"]')
  await thumb.enter(await onTape())
  await page.waitForSelector('[data-stage="closed"]')
  const room = decodeURIComponent(new URL(page.url()).hash.split('/')[2])
  const { headline } = await ask(page, 'findings', { room })
  assert.deepEqual([headline.verdict, headline.read, headline.out.includes('J6')], ['out', 28, true])
  assert.equal((await ask(page, 'room', { room })).room.name, 'Practice room')
  assert.deepEqual(page.wrong, [])
})

test('a number that is said goes into the box and is read back; only next keeps it', async () => {
  const page = await begin()
  await page.evaluate(() => {
    window.spokenAloud = []
    window.speechSynthesis.speak = (utterance) => window.spokenAloud.push(utterance.text)
    // The platform's ear, played: it hears what the test says.
    window.SpeechRecognition = class {
      start() {
        window.saying = (transcript) => this.onresult({ results: [[{ transcript }]] })
      }
      abort() {}
    }
  })
  const room = await halfRead(page)
  await visit(page, `#/rooms/${room}/readings`)
  await page.waitForSelector('[data-stage="reading"]')
  await press(page, page.getByRole('button', { name: 'Call out' }))
  await page.waitForSelector('[data-call="J4@30"]')
  const { width, height } = await page.locator('[data-key="ear"]').boundingBox()
  assert.ok(width >= 80 && height >= 72, `the ear is ${width} × ${height}`)
  await press(page, page.locator('[data-key="ear"]'))
  await page.evaluate(() => window.saying('the joist is high'))
  await page.getByText('is no number').first().waitFor()
  assert.ok(await page.locator('[data-key="next"]').isDisabled())
  await press(page, page.locator('[data-key="ear"]'))
  await page.waitForSelector('[data-key="ear"][aria-pressed="true"]')
  await page.evaluate(() => window.saying('forty four and one eighth'))
  await page.waitForSelector('[data-key="ear"][aria-pressed="false"]')
  await page.waitForFunction(() => window.spokenAloud.at(-1)?.includes('Next keeps it'))
  assert.equal(await page.evaluate(() => window.spokenAloud.at(-1)), '44 and 1/8. Next keeps it.')
  const point = async (id) => {
    const { surveys } = await ask(page, 'room', { room })
    return surveys[0].points.find((one) => one.id === id)
  }
  assert.equal((await point('J4@30')).reading, null)
  await page.tap('[data-key="next"]')
  await page.waitForSelector('[data-point="J4@60"]')
  assert.equal((await point('J4@30')).reading.entered, '44-1/8')
  assert.deepEqual(page.wrong, [])
})
