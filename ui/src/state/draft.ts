import type { Axis } from '../bridge/generated/Axis'
import type { Fixture } from '../bridge/generated/Fixture'
import type { FixtureKind } from '../bridge/generated/FixtureKind'
import type { Joist } from '../bridge/generated/Joist'
import type { JoistKind } from '../bridge/generated/JoistKind'
import type { Plan } from '../bridge/generated/Plan'
import type { PlanPoint } from '../bridge/generated/PlanPoint'
import type { Survey } from '../bridge/generated/Survey'
import type { Units } from '../bridge/generated/Units'
import { INCH } from '../units'
import { keyOf, words } from '../words'
import {
  endsOf,
  holds,
  isNoRoom,
  nookOf,
  openingOf,
  rectangle,
  round,
  sidesOf,
  through,
  type Corner,
  type Opening,
} from './outline'
import { stationText } from './room.svelte'

/** A room as it is asked for: from this the plan is made. Lengths in mm. */
export type Draft = {
  baseWall: string
  sideWall: string
  width: number
  depth: number
  /** A corner taken out of the far end, away from the second wall: the room is an L. */
  nook: { width: number; depth: number } | undefined
  /** The corners of a room that is neither; width and depth then follow from them. */
  corners: Corner[] | undefined
  reads: 'joists' | 'floor' | 'both' | 'fall'
  along: Axis
  first: number
  spacing: number
  count: number
  kind: JoistKind
  joistDepth: number
  span: number
  behind: number
  stations: number[]
  grid: number
  door: boolean
  doorFrom: number
  doorTo: number
  doorBudget: number | undefined
  drain: 'none' | 'point' | 'line'
  drainX: number
  drainY: number
  /** The wall that a linear drain runs along: from wall to wall. */
  drainAlong: Axis
  /** A second drain, a point. */
  second: Corner | undefined
  entry: Opening | undefined
  /** What stands on the floor: nothing is read there. */
  fixtures: Fixture[]
}

export type Template = 'bath' | 'ell' | 'alcove' | 'floor'

/** The usual sizes of a place, as a start. Common practice in inches, and its metric counterpart in mm. */
export function draftOf(template: Template, units: Units): Draft {
  const size = (inches: number, mm: number) => (units === 'in' ? inches * INCH : mm)
  const [width, depth] = template === 'alcove' ? [size(60, 1500), size(36, 900)] : [size(96, 2400), size(96, 2400)]
  const draft: Draft = {
    baseWall: words().defaults.baseWall,
    sideWall: words().defaults.sideWall,
    width,
    depth,
    nook: template === 'ell' ? { width: size(36, 900), depth: size(36, 900) } : undefined,
    corners: undefined,
    reads: template === 'bath' || template === 'ell' ? 'joists' : template === 'floor' ? 'floor' : 'both',
    along: template === 'alcove' ? 'x' : 'y',
    first: size(8, 200),
    spacing: size(16, 400),
    count: 2,
    kind: 'sawn',
    joistDepth: size(9.25, 235),
    span: size(144, 3600),
    behind: 0,
    stations: [],
    grid: size(24, 600),
    door: template !== 'alcove',
    doorFrom: size(8, 200),
    doorTo: size(40, 1000),
    doorBudget: undefined,
    drain: template === 'alcove' ? 'point' : 'none',
    drainX: width / 2,
    drainY: depth / 2,
    drainAlong: 'x',
    second: undefined,
    entry: template === 'alcove' ? { side: 2 } : undefined,
    fixtures: [],
  }
  draft.count = fitting(draft)
  draft.stations = every(size(24, 600), along(draft))
  return draft
}

/** How long the room is along its joists. */
export function along(draft: Draft): number {
  return draft.along === 'y' ? draft.depth : draft.width
}

function across(draft: Draft): number {
  return draft.along === 'y' ? draft.width : draft.depth
}

/** A room reaches this far each way, in mm: anything else was typed in another unit. Our own choice. */
const [SHORTEST, LONGEST] = [300, 50_000]
/** No more joists are set out, whatever was typed: as many as the counter goes to. */
const MOST_JOISTS = 60

/** How many joists fit between the walls. */
export function fitting({ first, spacing, ...draft }: Draft): number {
  const fit = Math.floor((across({ first, spacing, ...draft }) - first) / spacing + 1e-9) + 1
  return Math.min(MOST_JOISTS, Math.max(1, fit))
}

/** Distances from nothing to `most`, the last one at most half a step short of it. */
export function every(step: number, most: number): number[] {
  const count = Math.min(60, Math.floor(most / step + 1e-9))
  return Array.from({ length: count + 1 }, (_, i) => round(i * step))
}

/** The draft in a room of another size: as many joists as fit, and read as far as it goes. */
export function resized(draft: Draft, size: { width?: number; depth?: number }): Draft {
  const room = { ...draft, ...size }
  const [first = 0, second] = draft.stations
  const even = first === 0 && second !== undefined && same(draft.stations, every(second, along(draft)))
  return { ...room, count: fitting(room), stations: even ? every(second, along(room)) : draft.stations }
}

function same(a: number[], b: number[]): boolean {
  return a.length === b.length && a.every((value, i) => Math.abs(value - b[i]!) < 0.01)
}

/** What a draft asks for that cannot be. */
export function wrongIn(draft: Draft, points: number): string | undefined {
  const say = words().plan
  const last = draft.first + (draft.count - 1) * draft.spacing
  const joists = draft.reads === 'joists' || draft.reads === 'both'
  if ([draft.width, draft.depth].some((size) => !(size >= SHORTEST && size <= LONGEST))) return say.noSize
  if (isNoRoom(outlineOf(draft))) return say.noRoom
  if (points > 500) return say.tooMany(points)
  if (joists && (draft.first < 0 || last > across(draft) + 1e-6)) return say.joistsOutside
  if (joists && !(draft.span > 0)) return say.noSpan
  if (oneName(draft.baseWall) === oneName(draft.sideWall)) return say.sameWalls
  if (draft.door && !(draft.doorFrom >= -1 && draft.doorFrom < draft.doorTo && draft.doorTo <= across(draft) + 1))
    return say.doorOutside
  if (drainsOf(draft).some(([x, y]) => !inside(draft, x, y))) return say.drainOutside
  if (draft.fixtures.some(({ from, to }) => !(to[0] > from[0] && to[1] > from[1]))) return say.fixtureFlat
  if (joists && draft.stations.some((station) => station < 0 || station > along(draft) + 1e-6)) return say.outside
  return undefined
}

/** A wall's name in whichever language it was proposed. */
function oneName(wall: string): string {
  return keyOf(wall.trim()) ?? wall.trim().toLowerCase()
}

/** Where the drains are; of a linear one its middle. */
function drainsOf(draft: Draft): Corner[] {
  if (draft.drain === 'none') return []
  const drain = drainOf(draft)
  // A line that meets no wall lies outside them all.
  const [[x, y], [u, v]] = drain
    ? [drain.from, drain.to ?? drain.from]
    : ([
        [-1, -1],
        [-1, -1],
      ] as const)
  return [[(x + u) / 2, (y + v) / 2], ...(draft.second ? [draft.second] : [])]
}

/** How much floor a fixture takes along the first wall and into the room: inches, and mm. Common practice. */
const TAKES: Record<FixtureKind, [inches: [number, number], mm: [number, number]]> = {
  toilet: [
    [20, 28],
    [500, 700],
  ],
  vanity: [
    [36, 21],
    [900, 530],
  ],
  tub: [
    [60, 30],
    [1500, 760],
  ],
  other: [
    [24, 24],
    [600, 600],
  ],
}

/** A fixture of the usual size along the far wall beside those that stand there, or as much of it as the room holds. */
export function fixtureOf(kind: FixtureKind, { width, depth, fixtures }: Draft, units: Units): Fixture {
  const [inches, mm] = TAKES[kind]
  const [wide, deep] = units === 'in' ? inches.map((inch) => inch * INCH) : mm
  const beside = Math.max(0, ...fixtures.filter(({ to }) => to[1] >= depth - 1).map(({ to }) => to[0]))
  const left = round(Math.max(0, Math.min(beside, width - wide!)))
  return { kind, from: [left, round(Math.max(0, depth - deep!))], to: [round(Math.min(width, left + wide!)), depth] }
}

/** Whether a place lies under something that stands on the floor. At its edge one can read, but not behind it. */
export function taken({ fixtures, width, depth }: Draft, x: number, y: number): boolean {
  const under = (value: number, from: number, to: number, wall: number) =>
    value > (from < 1 ? -1 : from + 1) && value < (to > wall - 1 ? wall + 1 : to - 1)
  return fixtures.some(({ from, to }) => under(x, from[0], to[0], width) && under(y, from[1], to[1], depth))
}

/** The plan that a draft describes; points in `read` stay whatever stands there now. */
export function planOf(draft: Draft, units: Units, read: ReadonlySet<string> = new Set()): Plan {
  const joists = draft.reads === 'joists' || draft.reads === 'both' ? joistsOf(draft) : []
  const floor = draft.reads === 'floor' || draft.reads === 'both' ? floorPoints(draft, 'floor', draft.grid) : []
  const fall = draft.reads === 'fall' ? fallPoints(draft, units) : []
  const names = words().defaults
  const surveys: Survey[] = []
  if (joists.length > 0) surveys.push({ id: 'joists', name: names.joists, surface: 'framing' })
  if (floor.length > 0) surveys.push({ id: 'floor', name: names.floor, surface: 'floor' })
  if (fall.length > 0) surveys.push({ id: 'fall', name: names.fall, surface: 'fall' })
  return {
    outline: outlineOf(draft),
    base_wall: draft.baseWall,
    side_wall: draft.sideWall,
    joists_along: draft.along,
    joists,
    doorway: draft.door ? { from: draft.doorFrom, to: draft.doorTo, budget: draft.doorBudget ?? null } : null,
    drain: drainOf(draft),
    ...(draft.drain !== 'none' && draft.second && { second_drain: { from: draft.second } }),
    entry: (draft.entry && endsOf(outlineOf(draft), draft.entry)) ?? null,
    ...(draft.fixtures.length > 0 && { fixtures: draft.fixtures }),
    surveys,
    points: [...joists.flatMap((joist, i) => joistPoints(draft, joist, i % 2 === 1, units)), ...floor, ...fall].filter(
      ({ id, x, y }) => read.has(id) || (inside(draft, x, y) && !taken(draft, x, y)),
    ),
  }
}

/** The corners of the room. */
export function outlineOf({ width, depth, nook, corners }: Draft): Corner[] {
  return corners ?? rectangle(width, depth, nook)
}

/** Whether a place lies in the room, its walls included. */
export function inside(draft: Draft, x: number, y: number): boolean {
  return holds(outlineOf(draft), x, y)
}

/** The draft with these corners: it reaches as far as they do. */
export function cornered(draft: Draft, corners: Corner[]): Draft {
  const most = (axis: 0 | 1) => Math.max(1, ...corners.map((corner) => corner[axis]))
  return { ...resized(draft, { width: most(0), depth: most(1) }), nook: undefined, corners }
}

function drainOf(draft: Draft): Plan['drain'] {
  const { drain, drainX, drainY, drainAlong } = draft
  if (drain === 'none') return null
  if (drain === 'point') return { from: [drainX, drainY] }
  const ends = through(outlineOf(draft), drainAlong, drainAlong === 'x' ? drainY : drainX)
  return ends ? { from: ends[0], to: ends[1] } : null
}

function joistsOf(draft: Draft): Joist[] {
  return Array.from({ length: Math.min(MOST_JOISTS, draft.count) }, (_, i) => ({
    id: `J${i + 1}`,
    at: round(draft.first + i * draft.spacing),
    kind: draft.kind,
    depth: draft.joistDepth,
    span: draft.span,
    first_bearing: -draft.behind,
  }))
}

/** The points of one joist, every second one walked backward so that nobody walks for nothing. */
function joistPoints(draft: Draft, joist: Joist, back: boolean, units: Units): PlanPoint[] {
  const points = draft.stations.map((station) => ({
    id: `${joist.id}@${stationText(station, units)}`,
    survey: 'joists',
    ...(draft.along === 'y' ? { x: joist.at, y: station } : { x: station, y: joist.at }),
    joist: joist.id,
  }))
  return back ? points.reverse() : points
}

/** A grid over the floor, letters along the base wall and numbers into the room, walked to and fro. */
function floorPoints(draft: Draft, survey: string, grid: number): PlanPoint[] {
  const xs = every(grid, draft.width)
  return every(grid, draft.depth).flatMap((y, row) => {
    const points = xs.map((x, column) => ({ id: `${letters(column)}${row + 1}`, survey, x, y }))
    return row % 2 === 1 ? points.reverse() : points
  })
}

/** To a point drain: the drain, a ring half-way round it, then the walls; to a linear one a close grid, to and fro. */
function fallPoints(draft: Draft, units: Units): PlanPoint[] {
  const { drainX, drainY, drain } = draft
  if (drain !== 'point') return floorPoints(draft, 'fall', units === 'in' ? 12 * INCH : 300)
  const around = sidesOf(outlineOf(draft)).flatMap(([one, two]): Corner[] => [
    one,
    [(one[0] + two[0]) / 2, (one[1] + two[1]) / 2],
  ])
  const point = (id: string, x: number, y: number) => ({ id, survey: 'fall', x: round(x), y: round(y) })
  const ring = around.map(([x, y], k) => point(`R${k + 1}`, (x + drainX) / 2, (y + drainY) / 2))
  // The walls are walked on from where the ring ends, so that nobody crosses the floor.
  const walls = around.map(([x, y], k) => point(`W${k + 1}`, x, y))
  return [point('D', drainX, drainY), ...ring, ...walls.slice(-1), ...walls.slice(0, -1)]
}

/** A, B … Z, AA, AB … */
function letters(column: number): string {
  const rest = column % 26
  const before = column < 26 ? '' : letters(Math.floor(column / 26) - 1)
  return before + String.fromCharCode(65 + rest)
}

/** How far apart neighbouring points of a flat survey lie at most: what is narrower can hide between them. */
export function widest({ reads, stations, grid }: Draft): number | undefined {
  const steps = stations.slice(1).map((station, k) => station - stations[k]!)
  const joists = reads === 'joists' || reads === 'both' ? steps : []
  const floor = reads === 'floor' || reads === 'both' ? [grid] : []
  const all = [...joists, ...floor]
  return all.length > 0 ? Math.max(...all) : undefined
}

/** The draft a plan was made from, as far as a rectangle with even joists can tell. */
export function draftFrom(plan: Plan, units: Units): Draft {
  const draft = draftOf('bath', units)
  const joist = plan.joists[0]
  const on = plan.points.filter((point) => point.joist === joist?.id)
  const floor = plan.points.filter((point) => !point.joist)
  const rows = [...new Set(floor.map(({ x }) => x))].sort((a, b) => a - b)
  return {
    ...draft,
    baseWall: plan.base_wall,
    sideWall: plan.side_wall,
    width: Math.max(...plan.outline.map(([x]) => x)),
    depth: Math.max(...plan.outline.map(([, y]) => y)),
    ...shapeOf(plan.outline),
    reads: plan.surveys.some(({ surface }) => surface === 'fall')
      ? 'fall'
      : joist
        ? floor.length > 0
          ? 'both'
          : 'joists'
        : 'floor',
    along: plan.joists_along,
    ...(joist && {
      first: joist.at,
      spacing: (plan.joists[1]?.at ?? joist.at + draft.spacing) - joist.at,
      count: plan.joists.length,
      kind: joist.kind,
      joistDepth: joist.depth,
      span: joist.span,
      behind: -joist.first_bearing,
      stations: on.map(({ x, y }) => (plan.joists_along === 'y' ? y : x)).sort((a, b) => a - b),
    }),
    grid: rows.length > 1 ? rows[1]! - rows[0]! : draft.grid,
    door: plan.doorway != null,
    drain: plan.drain ? (plan.drain.to ? 'line' : 'point') : 'none',
    ...drainIn(plan, draft),
    entry: plan.entry ? openingOf(plan.outline, plan.entry) : undefined,
    fixtures: plan.fixtures ?? [],
    ...(plan.doorway && {
      doorFrom: plan.doorway.from,
      doorTo: plan.doorway.to,
      doorBudget: plan.doorway.budget ?? undefined,
    }),
  }
}

/** Where the drains are. Of a linear one only the distance that it keeps from its wall is told. */
function drainIn({ drain, second_drain }: Plan, draft: Draft): Partial<Draft> {
  if (!drain) return {}
  const [drainX, drainY] = drain.from
  const drainAlong = drain.to && drain.to[0] === drainX ? 'y' : 'x'
  const place = drain.to ? (drainAlong === 'x' ? { drainY } : { drainX }) : { drainX, drainY }
  return { ...place, drainAlong, second: second_drain?.from ?? draft.second }
}

/** What makes a room other than a rectangle: a corner taken out, or corners of its own. */
function shapeOf(outline: Corner[]): Pick<Draft, 'nook' | 'corners'> {
  const most = (axis: 0 | 1) => Math.max(...outline.map((corner) => corner[axis]))
  const nook = nookOf(outline)
  const made = JSON.stringify(rectangle(most(0), most(1), nook))
  return made === JSON.stringify(outline) ? { nook, corners: undefined } : { nook: undefined, corners: outline }
}
