import type { Plan } from '../../bridge/generated/Plan'
import type { PlanPoint } from '../../bridge/generated/PlanPoint'
import type { Units } from '../../bridge/generated/Units'
import { newId } from '../../bridge/id'
import { write } from '../../bridge/write'
import { stationText } from '../../state/room.svelte'

/** Two places this close, mm, are the same. */
const SAME = 1

/** What is read where: everything a reading needs but its ids. */
export type Adding = {
  setup: string
  sense: 'down' | 'up'
  sd_mm: number
  entered: string
  value: number
  point: Omit<PlanPoint, 'id'>
}

/** The point of the plan at this place, else a new one with a name of its own. */
export function pointFor(plan: Plan, place: Omit<PlanPoint, 'id'>, units: Units): { point: PlanPoint; isNew: boolean } {
  const here = plan.points.find(
    ({ survey, x, y }) => survey === place.survey && Math.hypot(x - place.x, y - place.y) <= SAME,
  )
  if (here) return { point: here, isNew: false }
  const station = plan.joists_along === 'y' ? place.y : place.x
  const name = place.joist
    ? `${place.joist}@${stationText(station, units)}`
    : `${stationText(place.x, units)}/${stationText(place.y, units)}`
  const taken = new Set(plan.points.map(({ id }) => id))
  let id = name
  for (let k = 2; taken.has(id); k += 1) id = `${name} ${k}`
  return { point: { id, ...place }, isNew: true }
}

/** Keeps the reading; a new place goes onto the plan in the same step, so that one undo takes both back. */
export async function add(room: string, plan: Plan, units: Units, adding: Adding, before?: string): Promise<string> {
  const { point, isNew } = pointFor(plan, adding.point, units)
  const { setup, sense, sd_mm, entered, value } = adding
  const reading = { reading: newId(), setup, point: point.id, sense, sd_mm, entered, value, source: 'typed' }
  if (isNew) {
    const grown = { ...plan, points: [...plan.points, point] }
    await write(room, 'readings-import', { setups: [], readings: [reading], plan: grown })
  } else {
    await write(room, 'reading-add', { ...reading, supersedes: before ?? null })
  }
  return point.id
}
