import type { MapView } from '../bridge/generated/MapView'
import { extent, type Box, type Place } from './frame'

/** The stretch of plan that a map has to show, with a little room around it. */
export function ground(map: MapView): Box {
  const ends = map.joists.flatMap(({ from, to }) => [from, to])
  const box = extent([...map.outline, ...map.points.map(({ x, y }): Place => [x, y]), ...ends])
  const room = 0.02 * Math.max(box.right - box.left, box.bottom - box.top)
  return { left: box.left - room, top: box.top - room, right: box.right + room, bottom: box.bottom + room }
}

/** What a map shows stronger than the rest. */
export interface Chosen {
  at?: Place
  line?: readonly [Place, Place]
  /** The points to read again. */
  points?: readonly string[]
  joist?: string
  /** Where another reading tells most, in its order. */
  next?: readonly Place[]
}

/** The room's walls from which places are measured, and the doorway in one of them. */
export interface Walls {
  /** The wall y is measured from. */
  base: string
  /** The wall x is measured from. */
  side: string
  doorway?: readonly [Place, Place]
  /** The line over which one steps into the shower. */
  entry?: readonly [Place, Place]
  /** A point drain, or a line drain from end to end. */
  drain?: readonly [Place, Place]
  /** Another that takes water, too. */
  second?: readonly [Place, Place]
}
