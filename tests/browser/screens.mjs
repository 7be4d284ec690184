// Every screen of the program, with what must be there before it is looked at.
import { ask, shown, visit, write } from './host.mjs'
import { plan, walk } from './kestrel.mjs'
import { demo, newRoom } from './rooms.mjs'

const INCH = 25.4
const created = '2026-03-02T08:15:00Z'

/** The rooms that the screens are shown with: one read through, one without a plan, one not begun. */
export async function furnish(page) {
  const read = await demo(page)
  const empty = await newRoom(page, { name: 'Attic bath', units: 'mm', created })
  const fresh = await newRoom(page, { name: 'Guest bath', place: 'Second floor', created })
  await write(page, fresh, 'plan-set', { plan })
  await putTests(page, read)
  const metric = await demo(page, 'banksia')
  const sheet = { least: 3, most: 10, yield_litres: 11.5, bag_kg: 27 }
  const pour = { kind: 'compound', product: 'invented compound, batch 7', over: 3, waste: 0.1, ...sheet }
  await write(page, metric, 'pour-set', { pour })
  await walkTilts(page, read)
  const shower = await demo(page, 'rowan')
  await finish(page, { metric, shower })
  return { read, empty, fresh, metric, shower, drawn: await drawnRoom(page) }
}

/** A shower in a corner that is no rectangle, with two drains and half a side open. */
async function drawnRoom(page) {
  const room = await newRoom(page, { name: 'Corner shower', units: 'mm', created })
  const surveys = [{ id: 'fall', name: 'fall to the drain', surface: 'fall' }]
  const points = [
    ['D', 500, 500],
    ['W1', 0, 0],
    ['W2', 1500, 0],
  ].map(([id, x, y]) => ({ id, survey: 'fall', x, y }))
  await write(page, room, 'plan-set', {
    plan: {
      outline: [
        [0, 0],
        [1500, 0],
        [1500, 750],
        [900, 1500],
        [0, 1500],
      ],
      base_wall: 'far wall',
      side_wall: 'right wall',
      joists_along: 'y',
      drain: { from: [500, 500] },
      second_drain: { from: [300, 1200] },
      entry: [
        [1500, 600],
        [1500, 100],
      ],
      surveys,
      points,
    },
  })
  return room
}

/** The ledges of the shower and the tiles of the ensuite. */
async function finish(page, { metric, shower }) {
  const ledge = (kind, name, depth, back, front) => ({ id: crypto.randomUUID(), kind, name, depth, back, front })
  const ledges = [
    ledge('bench', 'bench', 14 * 25.4, 30 * 25.4, 30.3125 * 25.4),
    ledge('niche', 'niche sill', 3.5 * 25.4, 12 * 25.4, 12 * 25.4),
  ]
  await write(page, shower, 'ledges-set', { ledges })
  const surface = (name, wide, high, up) => ({ name, wide, high, across: 'balanced', up })
  const surfaces = [surface('P1', 1800, 2400, 'whole-first'), surface('P2', 1800, 900, 'balanced')]
  const size = { wide: 300, high: 600, joint: 3, edge: 6, least_cut: 50, waste: 0.1, warpage: 0.5 }
  const niche = { wide: 300, high: 600, clearance: 5, across: 900, up: 1300, on_module: true }
  const build_out = { tile: 10, bed: 6, thin_tile: 8, thin_bed: 3 }
  const lippage = [
    { place: 'P3', step: 0.5, joint: 3 },
    { place: 'P4', step: 2.5, joint: 3 },
  ]
  await write(page, metric, 'tiling-set', { tiling: { ...size, surfaces, niche, build_out, lippage } })
}

/** A flood test that leaks, a cable that may be buried, a membrane that cures for a long time. */
async function putTests(page, room) {
  const at = '2026-03-02T08:00:00Z'
  const put = (id, what) => write(page, room, 'entry-put', { entry: { id, at, what } })
  const marks = [
    { at: '2026-03-02T20:00:00Z', drop: 3, control: 1 },
    { at: '2026-03-03T08:00:00Z', drop: 7, control: 2 },
  ]
  const flood = { kind: 'flood', place: 'shower', depth: 55, hours: 24, below_looked_at: true, marks }
  await put('t1', flood)
  const read = (stage, ohms) => ({ stage, at, ohms, u: 0.2, insulation: 900, volts: 500 })
  const readings = [read('delivered', 30.1), read('laid', 30.2)]
  const label = { label_ohms: 30, less: 0.05, more: 0.1, insulation_least: 20 }
  await put('t2', { kind: 'heat-cable', product: 'mat 2 x 5 ft', ...label, readings })
  await putBehind(page, room, put)
  const cure = { kind: 'cure', product: 'liquid membrane', hours: 200000 }
  await put('t3', { ...cure, finished: at })
}

/** A walk with a tilting foot along the first joist, closed on its far end. */
async function walkTilts(page, room) {
  const foot = 30 * INCH
  const { plan } = await ask(page, 'room', { room })
  const { x, y } = plan.points.find(({ id }) => id === 'J1@0')
  for (const [k, text] of ['-0.12\u00b0', '0.01\u00b0', '0.13\u00b0'].entries()) {
    const { value, sd_mm } = await ask(page, 'tilt', { room, text, unit: 'degrees', foot })
    const to = [x, y + (k + 1) * foot]
    const step = { setup: '', point: 'J1@0', sense: 'tilt', entered: text, value, sd_mm, source: 'typed' }
    await write(page, room, 'reading-add', { reading: crypto.randomUUID(), ...step, length: foot, to })
  }
}

/** A pipe and a plate under the floor, the membrane, a person, a photograph drawn on the spot. */
async function putBehind(page, room, put) {
  const floor = { kind: 'hidden', surface: 'floor' }
  const way = [
    [254, 508],
    [254, 1524],
  ]
  await put('b1', { ...floor, thing: 'water-pipe', places: way, depth: 38.1 })
  await put('b2', { ...floor, thing: 'plate', places: [[1016, 762]] })
  await put('b3', { kind: 'material', thing: 'membrane', product: 'liquid', batch: '7' })
  await put('b4', { kind: 'person', name: 'R. Example', role: 'tile setter' })
  const base64 = await page.evaluate(() => {
    const canvas = Object.assign(document.createElement('canvas'), { width: 800, height: 600 })
    const pen = canvas.getContext('2d')
    pen.fillStyle = '#cdb48c'
    pen.fillRect(0, 0, 800, 600)
    pen.fillStyle = '#8a6a3f'
    for (const x of [100, 300, 500, 700]) pen.fillRect(x, 0, 40, 600)
    return canvas.toDataURL('image/jpeg').split(',')[1]
  })
  const about = { name: 'P2.jpg', wall: 'W1', viewpoint: 'P2', tape: true }
  await ask(page, 'photograph-add', { room, id: crypto.randomUUID(), base64, ...about, keep_place: false })
}

/** A floor in millimetres, half read. */
export async function halfReadMm(page) {
  const room = await newRoom(page, { name: 'Harbor View ensuite', units: 'mm', created })
  const columns = [0, 600, 1200, 1800]
  const points = [0, 600, 1200].flatMap((y, row) =>
    columns.map((x, column) => ({
      id: `${'ABCD'[column]}${row + 1}`,
      survey: 'floor',
      x,
      y,
    })),
  )
  const outline = [
    [0, 0],
    [1800, 0],
    [1800, 1200],
    [0, 1200],
  ]
  const walls = {
    base_wall: 'door wall',
    side_wall: 'left wall',
    joists_along: 'y',
    joists: [],
  }
  const surveys = [{ id: 'floor', name: 'floor', surface: 'floor' }]
  await write(page, room, 'plan-set', {
    plan: { outline, ...walls, surveys, points },
  })
  const setup = crypto.randomUUID()
  const stand = {
    survey: 'floor',
    instrument: 'laser and rod',
    sd_mm: 0.5,
    benchmark: { name: 'sill', height: 0 },
  }
  await write(page, room, 'setup-open', {
    setup,
    ...stand,
    opening: { text: '1120', mm: 1120, at: created },
  })
  const given = { setup, sense: 'down', sd_mm: 0.5, source: 'typed' }
  for (const [i, value] of [1121, 1122.5, 1121, 1120].entries()) {
    const reading = {
      ...given,
      reading: crypto.randomUUID(),
      point: points[i].id,
      entered: `${value}`,
      value,
    }
    await write(page, room, 'reading-add', reading)
  }
  return room
}

/** A room half read: the set-up open, thirteen points kept. */
export async function halfRead(page) {
  const room = await newRoom(page, { name: 'Kestrel Lane hall bath', created })
  await write(page, room, 'plan-set', { plan })
  const setup = crypto.randomUUID()
  const given = { setup, sense: 'down', sd_mm: 0.79375, source: 'typed' }
  const opening = { text: '44-1/4', mm: 44.25 * 25.4, at: created }
  const benchmark = { name: 'door mark', height: 0 }
  const instrument = 'laser line and tape'
  await write(page, room, 'setup-open', {
    setup,
    survey: 'joists',
    instrument,
    sd_mm: 0.79375,
    benchmark,
    opening,
  })
  for (const { point, text } of walk.slice(0, 13)) {
    const { mm } = await ask(page, 'length', { text, units: 'in' })
    await write(page, room, 'reading-add', {
      ...given,
      reading: crypto.randomUUID(),
      point,
      entered: text,
      value: mm,
    })
  }
  return room
}

/** Each screen by its name: where it is, and what shows that it is there. */
export function screens({ read, empty, fresh, metric, shower, drawn, half, halfMm }) {
  const at = (room, page) => `#/rooms/${room}${page ? `/${page}` : ''}`
  return {
    rooms: ['#/', '.line'],
    new: ['#/new', 'form'],
    settings: ['#/settings', 'fieldset'],
    devices: ['#/devices', 'article'],
    backups: ['#/backups', '.page'],
    crew: ['#/crew', '[data-key="open"]'],
    display: [at(half, 'display'), '[data-now]'],
    'room-empty': [at(empty), '[data-next="plan"]'],
    'room-fresh': [at(fresh), '[data-next="structure"]'],
    room: [at(read), '[data-next]'],
    plan: [at(fresh, 'plan'), 'form'],
    'plan-drawn': [at(drawn, 'plan'), '[data-drawing]'],
    structure: [at(fresh, 'structure'), 'ol'],
    'readings-set-up': [at(fresh, 'readings'), 'form'],
    readings: [at(half, 'readings'), '[data-stage="reading"]'],
    'readings-closed': [at(read, 'readings'), '[data-stage="closed"]'],
    'readings-mm': [at(halfMm, 'readings'), '[data-stage="reading"]'],
    findings: [at(read, 'findings'), 'h2'],
    'findings-mm': [at(metric, 'findings'), 'h2'],
    height: [at(read, 'height'), 'h2'],
    'cut-list': [at(read, 'cut-list'), 'h2'],
    approvals: [at(read, 'approvals/J4'), '.question'],
    straightedge: [at(read, 'straightedge'), '[data-place]'],
    tilt: [at(half, 'tilt/joists'), 'form'],
    'tilt-walked': [at(read, 'tilt'), '[data-closes="within"]'],
    'straightedge-none': [at(fresh, 'straightedge'), 'h2'],
    sheet: [at(fresh, 'sheet'), 'article'],
    solid: [at(read, 'solid'), '[data-drawn]'],
    terms: ['#/terms', 'dl'],
    another: [at(half, 'another/joists;J3;762.000;2286.000'), '[data-seeking]'],
    'another-closed': [at(read, 'another/joists;J4;762.000;2286.000'), '.notice'],
    chalk: [at(read, 'chalk'), '[data-mark]'],
    compare: [at(read, 'compare'), 'h2'],
    tests: [at(read, 'tests'), '[data-test]'],
    behind: [at(read, 'behind'), '[data-photograph] img'],
    'behind-none': [at(fresh, 'behind'), '.page'],
    'tests-none': [at(fresh, 'tests'), '.page'],
    checks: [at(half, 'checks'), '[role="tabpanel"]'],
    'build-up': [at(shower, 'build-up'), '[data-meeting]'],
    'build-up-none': [at(metric, 'build-up'), '.page button'],
    fall: [at(metric, 'fall'), '[data-part="correction"]'],
    'fall-point': [at(shower, 'fall'), '[data-part="marks"]'],
    'fall-none': [at(read, 'fall'), '.page a'],
    pour: [at(metric, 'pour'), '[data-part="takes"]'],
    drain: [at(shower, 'drain'), '[data-part="place"]'],
    cutting: [at(read, 'cutting'), '[data-part="order"]'],
    ledges: [at(shower, 'ledges'), '[data-ledge]'],
    'ledges-none': [at(read, 'ledges'), '.kinds button'],
    tiles: [at(metric, 'tiles'), '[data-part="order"]'],
    'tiles-none': [at(read, 'tiles'), '.page button'],
    'pour-none': [at(read, 'pour'), '.page button'],
    record: [at(read, 'record'), 'section'],
    history: [at(read, 'history'), 'ol li'],
    rules: [at(read, 'rules'), 'ul li'],
  }
}

/** Goes to a screen and waits until all of it is shown. */
export async function show(page, [hash, there]) {
  await visit(page, hash)
  await page.waitForSelector(`main ${there}`)
  await page.evaluate(() => document.fonts.ready)
  await shown(page)
}
