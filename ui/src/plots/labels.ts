import type { Box, Place } from './frame'

/** Text that wants to stand near a place. */
export interface Wanted {
  at: Place
  width: number
  height: number
  /** How far from the place its edge may begin. */
  clear: number
}

/** The directions in which a label is tried, best first; screen y points down. */
const SIDES: Place[] = [
  [0, -1],
  [0, 1],
  [1, 0],
  [-1, 0],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
]

/**
 * A box for each label, in the order of their weight, inside the frame and clear of the taken boxes and of one another;
 * undefined for one that finds no room.
 */
export function placed(wanted: readonly Wanted[], frame: Box, taken: readonly Box[] = []): (Box | undefined)[] {
  const full = [...taken]
  return wanted.map((label) => {
    const box = boxesFor(label).find((box) => within(box, frame) && !full.some((other) => overlap(box, other)))
    if (box) full.push(box)
    return box
  })
}

export function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
}

function within(box: Box, frame: Box): boolean {
  return box.left >= frame.left && box.right <= frame.right && box.top >= frame.top && box.bottom <= frame.bottom
}

function boxesFor(label: Wanted): Box[] {
  const near = SIDES.map((side) => beside(label, side, label.clear))
  const far = SIDES.map((side) => beside(label, side, label.clear + label.height))
  return [...near, ...far]
}

function beside({ at, width, height }: Wanted, [right, down]: Place, clear: number): Box {
  const left = at[0] + right * (clear + width / 2) - width / 2
  const top = at[1] + down * (clear + height / 2) - height / 2
  return { left, top, right: left + width, bottom: top + height }
}

/** The places of a row of figures, each moved as little as need be so that neighbours stay `gap` apart. */
export function spread(at: readonly number[], widths: readonly number[], low: number, high: number, gap = 4): number[] {
  const order = at.map((_, index) => index).sort((a, b) => at[a]! - at[b]!)
  const places = [...at]
  let edge = low
  for (const index of order) {
    places[index] = Math.max(places[index]!, edge + widths[index]! / 2)
    edge = places[index]! + widths[index]! / 2 + gap
  }
  edge = high
  for (const index of order.reverse()) {
    places[index] = Math.min(places[index]!, edge - widths[index]! / 2)
    edge = places[index]! - widths[index]! / 2 - gap
  }
  return places
}
