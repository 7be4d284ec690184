// Measures what a hand feels: how long a frame takes while a map of 500 points is moved about, and how long from a tap
// to the first view of a room. Prints milliseconds, on this
// machine and slowed down as a phone is; nothing passes or fails.
import { ask, openPage, startBrowser, startHost, visit } from './host.mjs'
import { halfReadMm } from './screens.mjs'

const [COLUMNS, ROWS, APART] = [25, 20, 120]
const [FRAMES, TIMES] = [240, 7]
/** Frames follow one another as fast as they are made, so that their cost shows and not the beat of the display. */
const UNBOUND = ['--disable-frame-rate-limit', '--disable-gpu-vsync']

/** A floor of 500 readings, wavy and even otherwise. */
async function largeRoom(page) {
  const file = JSON.parse((await ask(page, 'room-export', { room: await halfReadMm(page) })).text)
  const [first] = file.readings
  const places = Array.from({ length: COLUMNS * ROWS }, (_, k) => [k % COLUMNS, Math.floor(k / COLUMNS)])
  const id = ([column, row]) => `${String.fromCharCode(65 + column)}${row + 1}`
  const [right, far] = [(COLUMNS - 1) * APART, (ROWS - 1) * APART]
  const wave = ([column, row]) => Math.round(1120 + 2.5 * Math.sin(column / 3) * Math.cos(row / 4) + 0.1 * column)
  Object.assign(file.plan, {
    outline: [
      [0, 0],
      [right, 0],
      [right, far],
      [0, far],
    ],
    points: places.map((at) => ({ id: id(at), survey: 'floor', x: at[0] * APART, y: at[1] * APART })),
  })
  file.readings = places.map((at) => ({
    ...first,
    id: crypto.randomUUID(),
    point: id(at),
    entered: `${wave(at)}`,
    value: wave(at),
  }))
  delete file.journal
  file.room.id = crypto.randomUUID()
  file.room.name = 'Five hundred points'
  return (await ask(page, 'room-import', { id: crypto.randomUUID(), file: JSON.stringify(file) })).room
}

/** The frames while the enlarged map is dragged to and fro, in ms. */
function framesOf(page) {
  return page.evaluate(async (count) => {
    const map = document.querySelector('figure > svg')
    const box = map.getBoundingClientRect()
    const [x, y] = [box.left + box.width / 2, box.top + box.height / 2]
    const fire = (kind, at) =>
      map.dispatchEvent(
        new PointerEvent(kind, {
          pointerId: 1,
          bubbles: true,
          clientX: x + at,
          clientY: y + at / 3,
          pointerType: 'touch',
        }),
      )
    fire('pointerdown', 0)
    const took = []
    await new Promise((done) => {
      let before = performance.now()
      const frame = (now) => {
        took.push(now - before)
        before = now
        if (took.length > count) return done()
        fire('pointermove', 60 * Math.sin(took.length / 12))
        requestAnimationFrame(frame)
      }
      requestAnimationFrame(frame)
    })
    fire('pointerup', 0)
    // The first one began before anything moved.
    return took.slice(1)
  }, FRAMES)
}

/** From a tap on the room in the list until its plan is painted, in ms. */
async function firstView(page, name) {
  await visit(page, '#/')
  const row = page.getByRole('link', { name })
  await row.waitFor()
  await page.evaluate(() => {
    window.firstView = new Promise((done) => {
      addEventListener(
        'pointerdown',
        () => {
          const from = performance.now()
          const look = () =>
            document.querySelector('main [data-next]')
              ? requestAnimationFrame(() => setTimeout(() => done(performance.now() - from)))
              : requestAnimationFrame(look)
          look()
        },
        { once: true },
      )
    })
  })
  await row.tap()
  return page.evaluate(() => window.firstView)
}

function said(what, all) {
  const sorted = [...all].sort((a, b) => a - b)
  const at = (share) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(1)
  console.log(`${what}: median ${at(0.5)} ms, 95 in 100 under ${at(0.95)} ms, most ${at(1)} ms (${all.length})`)
}

const host = await startHost()
const browser = await startBrowser(UNBOUND)
try {
  const page = await openPage(browser, host.address)
  const room = await largeRoom(page)
  await visit(page, `#/rooms/${room}/findings`)
  await page.getByRole('button', { name: 'Larger' }).tap()
  await page.getByRole('button', { name: 'Larger' }).tap()
  await page.waitForSelector('figure > svg.free')
  const speed = await page.context().newCDPSession(page)
  for (const rate of [1, 4]) {
    const here = rate === 1 ? 'here' : `${rate} times slower`
    await speed.send('Emulation.setCPUThrottlingRate', { rate })
    await visit(page, `#/rooms/${room}/findings`)
    await page.waitForSelector('figure > svg')
    for (let k = 0; k < 2; k += 1) await page.getByRole('button', { name: 'Larger' }).tap()
    await page.waitForSelector('figure > svg.free')
    said(`moving a map of 500 points, ${here}, one frame`, await framesOf(page))
    const views = []
    for (let k = 0; k < TIMES; k += 1) views.push(await firstView(page, 'Five hundred points'))
    said(`from the tap to the first view of that room, ${here}`, views)
  }
} finally {
  await browser.close()
  await host.stop()
}
