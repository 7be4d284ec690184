import type { RoomView } from '../../bridge/generated/RoomView'
import type { TiltUnit } from '../../bridge/generated/TiltUnit'
import type { TiltWalk } from '../../bridge/generated/TiltWalk'

type Place = [number, number]

/** A walk on its way: where it begins, which way it goes, and the foot that is set down. Lengths in mm. */
export interface Going {
  from: string
  at: Place
  /** The direction, as long as one. */
  along: Place
  foot: number
}

/** From one point toward another; nothing where they are one. */
export function going(view: RoomView, from: string, toward: string, foot: number): Going | undefined {
  const [start, goal] = [from, toward].map((id) => view.plan?.points.find((point) => point.id === id))
  if (!start || !goal) return undefined
  const [x, y] = [goal.x - start.x, goal.y - start.y]
  const far = Math.hypot(x, y)
  return far < 1 ? undefined : { from, at: [start.x, start.y], along: [x / far, y / far], foot }
}

/** A walk that was begun, taken up again. */
export function again({ from, foot, stations }: TiltWalk): Going | undefined {
  const [first, second] = stations
  if (!first || !second) return undefined
  const along: Place = [(second.at[0] - first.at[0]) / foot, (second.at[1] - first.at[1]) / foot]
  return { from, at: first.at, along, foot }
}

/** Where a rest of the foot stands after so many steps. */
export function rest({ at, along, foot }: Going, step: number): Place {
  return [at[0] + along[0] * foot * step, at[1] + along[1] * foot * step]
}

/** Whether what was kept belongs to this walk. */
export function isOf(way: Going, walk: TiltWalk): boolean {
  const other = again(walk)
  if (!other || walk.from !== way.from || Math.abs(walk.foot - way.foot) > 0.5) return false
  return other.along[0] * way.along[0] + other.along[1] * way.along[1] > 0.9999
}

/** How many whole steps lie between two points. */
export function steps(view: RoomView, from: string, toward: string, foot: number): number {
  const [start, goal] = [from, toward].map((id) => view.plan?.points.find((point) => point.id === id))
  return start && goal ? Math.floor(Math.hypot(goal.x - start.x, goal.y - start.y) / foot + 0.01) : 0
}

/** The usual foot, and what the level shows: common practice in inches, and its metric counterpart. */
export function usual(units: 'in' | 'mm'): { foot: number; unit: TiltUnit } {
  return units === 'in' ? { foot: 609.6, unit: 'degrees' } : { foot: 600, unit: 'mm-per-m' }
}
