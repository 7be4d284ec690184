import type { FindingsView } from '../../bridge/generated/FindingsView'
import type { Mark } from '../../bridge/generated/Mark'
import type { Drain } from '../../bridge/generated/Drain'
import type { Plan } from '../../bridge/generated/Plan'
import type { PointView } from '../../bridge/generated/PointView'
import type { Profile } from '../../bridge/generated/Profile'
import type { RoomView } from '../../bridge/generated/RoomView'
import type { Surface } from '../../bridge/generated/Surface'
import type { Place } from '../../plots/frame'
import type { Walls } from '../../plots/ground'
import { nameOf, stationText } from '../../state/room.svelte'
import { distance, figure, type Shown } from '../../units'
import { called, words } from '../../words'
import { settings } from '../../state/settings.svelte'

/** How the places of one survey are called in words, and what the plan says of them. */
export interface Naming {
  units: Shown
  room: string
  survey: string
  surface: Surface
  walls: Walls
  /** The wall that the first stations lie by. */
  stationWall: string
  /** Points by name, those of one joist together: `J1 at 30, 0 and 90`. */
  points(ids: readonly string[]): string[]
  /** The joist a point lies on. */
  joist(point: string): string | undefined
  /** A line of points by its name, or as a straightedge lies on it: `J4`, `across at 60 in`, `along J4`. */
  line(line: Profile): string
  lying(line: Profile): string
  /** A row of points, or the way from one of them, by the name a finding gives it. */
  row(name: string): string
  /** A run by its two ends, the upper first. */
  run(name: string): string
  /** A place said by its distance along the joists. */
  station(at: Place): string
  /** That distance in mm. */
  along(at: Place): number
  far(mm: number): string
  /** The same without its unit. */
  bare(mm: number): string
  reading(id: string): string | undefined
  isJoist(name: string): boolean
  /** What a mark is called: its joist; a place of a floor needs no name. */
  mark(mark: Mark): string
}

export function namingOf(room: RoomView, view: FindingsView): Naming {
  const survey = room.surveys.find(({ id }) => id === view.survey)
  const points = new Map(survey?.points.map((point) => [point.id, point]))
  const units = settings.of(room.room)
  const alongX = room.plan?.joists_along === 'x'
  const walls = wallsOf(room.plan)
  const along = ([x, y]: Place) => (alongX ? x : y)
  return {
    units,
    room: room.room.name,
    survey: called(survey?.name ?? ''),
    surface: survey?.surface ?? 'floor',
    walls,
    stationWall: called(alongX ? walls.side : walls.base),
    points: (ids) => together(ids, points, units),
    joist: (id) => points.get(id)?.joist ?? undefined,
    line: (line) => joistOf(line, points) ?? rowOf(line, points, alongX, units),
    lying: (line) => {
      const joist = joistOf(line, points)
      return joist ? words().findings.along(joist) : rowOf(line, points, alongX, units)
    },
    row: (name) => {
      const line = view.profiles.find((one) => one.name === name)
      return line ? rowOf(line, points, alongX, units) : together([name], points, units).join()
    },
    run: (name) => {
      const ends = name.split(' to ').map((id) => together([id], points, units).join())
      return words().findings.fromTo(ends[0] ?? '', ends[1] ?? '')
    },
    station: (at) => distance(along(at), units),
    along,
    far: (mm) => distance(mm, units),
    bare: (mm) => stationText(mm, units),
    reading: (id) => readingOf(points.get(id), units),
    mark: ({ name }) => (view.map.joists.some((joist) => joist.name === name) ? name : ''),
    isJoist: (name) => view.map.joists.some((joist) => joist.name === name),
  }
}

/** A name that holds a slash, kept from being set as a fraction. */
export function unlike(name: string): string {
  return name.replaceAll('/', '/\u2060')
}

function together(ids: readonly string[], points: Map<string, PointView>, units: Shown): string[] {
  const onJoists = new Map<string, string[]>()
  const names: string[] = []
  for (const id of ids) {
    const point = points.get(id)
    if (!point?.joist) names.push(unlike(point ? nameOf(point, units) : id))
    else onJoists.set(point.joist, [...(onJoists.get(point.joist) ?? []), stationText(point.station, units)])
  }
  return [...names, ...[...onJoists].map(([joist, stations]) => words().findings.pointsAt(joist, stations))]
}

/** The joist that all points of a line lie on. */
function joistOf({ points: all }: Profile, points: Map<string, PointView>): string | undefined {
  const on = points.get(all[0]?.point ?? '')?.joist ?? undefined
  return all.every(({ point }) => points.get(point)?.joist === on) ? on : undefined
}

/** A row by where it lies. */
function rowOf(line: Profile, points: Map<string, PointView>, alongX: boolean, units: Shown): string {
  const first = points.get(line.points[0]?.point ?? '')
  if (!first) return line.name
  const at = distance(line.along === alongX ? first.y : first.x, units)
  return line.along ? words().findings.alongAt(at) : words().findings.across(at)
}

/** What was read there, in the room's units, in the sense it was read in. */
function readingOf(point: PointView | undefined, units: Shown): string | undefined {
  return point?.reading ? figure(point.reading.value, units) : undefined
}

function wallsOf(plan: Plan | null | undefined): Walls {
  const across = (drain: Drain | null | undefined): [Place, Place] | undefined =>
    drain ? [drain.from, drain.to ?? drain.from] : undefined
  const walls: Walls = {
    base: plan?.base_wall ?? '',
    side: plan?.side_wall ?? '',
    entry: plan?.entry ?? undefined,
    drain: across(plan?.drain),
    second: across(plan?.second_drain),
  }
  if (!plan?.doorway) return walls
  const alongX = plan.joists_along === 'x'
  const wall = Math.min(...plan.outline.map((corner) => corner[alongX ? 0 : 1]))
  const jamb = (at: number): Place => (alongX ? [wall, at] : [at, wall])
  return { ...walls, doorway: [jamb(plan.doorway.from), jamb(plan.doorway.to)] }
}
