/** A corner of the room: along the first wall and into the room, in mm. */
export type Corner = [number, number]

/** Corners closer than this are one; a place this far beyond a wall still lies in the room. */
const SLACK = 1e-6

/** The four corners of a room, or six where the one at the far end, away from the second wall, is taken out. */
export function rectangle(width: number, depth: number, nook?: { width: number; depth: number }): Corner[] {
  const [x, y] = [width - (nook?.width ?? 0), depth - (nook?.depth ?? 0)]
  const far: Corner[] = nook
    ? [
        [width, y],
        [x, y],
        [x, depth],
      ]
    : [[width, depth]]
  return [[0, 0], [width, 0], ...far, [0, depth]]
}

/** The corner that an outline of six corners lacks, where it is one that `rectangle` makes. */
export function nookOf(outline: Corner[]): { width: number; depth: number } | undefined {
  const [, , far, inner, side] = outline
  if (outline.length !== 6 || !far || !inner || !side) return undefined
  return { width: far[0] - inner[0], depth: side[1] - inner[1] }
}

/** The walls in order, each from its corner to the next. */
export function sidesOf(outline: Corner[]): [Corner, Corner][] {
  return outline.map((corner, i) => [corner, outline[(i + 1) % outline.length]!])
}

/** How long a wall is. */
export function lengthOf([from, to]: [Corner, Corner]): number {
  return Math.hypot(to[0] - from[0], to[1] - from[1])
}

/** Whether a place lies in the room, its walls included. */
export function holds(outline: Corner[], x: number, y: number): boolean {
  const sides = sidesOf(outline)
  if (sides.some((side) => distanceTo(side, [x, y]) <= SLACK)) return true
  const crossed = sides.filter(
    ([a, b]) => a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]),
  )
  return crossed.length % 2 === 1
}

/** How far a place lies from a wall. */
function distanceTo([a, b]: [Corner, Corner], at: Corner): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const along = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / Math.max(dx * dx + dy * dy, SLACK)
  const share = Math.min(1, Math.max(0, along))
  return Math.hypot(a[0] + share * dx - at[0], a[1] + share * dy - at[1])
}

/** The longest way straight through the room, along the first wall or into the room, this far from the other wall. */
export function through(outline: Corner[], along: 'x' | 'y', at: number): [Corner, Corner] | undefined {
  const turned = outline.map(([x, y]): Corner => (along === 'x' ? [x, y] : [y, x]))
  // On the farthest wall itself no wall crosses: just inside it they do.
  const side = Math.min(at, Math.max(...turned.map(([, across]) => across)) - 1e-3)
  const walls = sidesOf(turned)
    .filter(([a, b]) => a[1] > side !== b[1] > side)
    .map(([a, b]) => round(a[0] + ((side - a[1]) / (b[1] - a[1])) * (b[0] - a[0])))
    .sort((a, b) => a - b)
  const spans = walls.flatMap((from, k): Corner[] => (k % 2 === 0 ? [[from, walls[k + 1]!]] : []))
  const [longest] = spans.sort((a, b) => b[1] - b[0] - (a[1] - a[0]))
  return longest && (longest.map((end): Corner => (along === 'x' ? [end, at] : [at, end])) as [Corner, Corner])
}

/** Whether no room has these corners: fewer than three, no floor between them, or walls that cross or touch. */
export function isNoRoom(outline: Corner[]): boolean {
  if (outline.length < 3 || Math.abs(areaOf(outline)) < 1) return true
  const sides = sidesOf(outline)
  return sides.some(
    (one, i) =>
      lengthOf(one) < 1 || sides.slice(i + 1).some((other, k) => meet(one, other, apart(i, i + 1 + k, sides.length))),
  )
}

/** Whether two walls are no neighbours. */
function apart(i: number, k: number, many: number): boolean {
  return k - i > 1 && !(i === 0 && k === many - 1)
}

/** Whether two walls cross; neighbours share a corner and do not count for that. */
function meet([a, b]: [Corner, Corner], [c, d]: [Corner, Corner], apart: boolean): boolean {
  if (!apart) return false
  const [one, two, three, four] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)]
  if (one * two < 0 && three * four < 0) return true
  return [c, d].some((end) => distanceTo([a, b], end) < 1) || [a, b].some((end) => distanceTo([c, d], end) < 1)
}

/** Twice the area of a triangle, positive where it turns from x toward y. */
function turn(a: Corner, b: Corner, c: Corner): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
}

function areaOf(outline: Corner[]): number {
  return sidesOf(outline).reduce((sum, [a, b]) => sum + (a[0] * b[1] - b[0] * a[1]) / 2, 0)
}

/** A part of a wall, from one distance from its first corner to another; all of it where nothing is said. */
export type Opening = { side: number; from?: number; to?: number }

/** The ends of an opening, the farther one from the first corner first, as one walks into the room. */
export function endsOf(outline: Corner[], { side, from, to }: Opening): [Corner, Corner] | undefined {
  const wall = sidesOf(outline)[side]
  if (!wall) return undefined
  const whole = lengthOf(wall)
  const at = (distance: number): Corner => {
    const share = whole > 0 ? distance / whole : 0
    const between = (axis: 0 | 1) => round(wall[0][axis] + share * (wall[1][axis] - wall[0][axis]))
    return [between(0), between(1)]
  }
  return [to === undefined ? wall[1] : at(to), from === undefined ? wall[0] : at(from)]
}

/** The opening that has these ends; nothing where they lie on no wall. */
export function openingOf(outline: Corner[], [one, two]: [Corner, Corner]): Opening | undefined {
  const side = sidesOf(outline).findIndex((wall) => distanceTo(wall, one) < 1 && distanceTo(wall, two) < 1)
  const wall = sidesOf(outline)[side]
  if (!wall) return undefined
  const [from, to] = [one, two].map((end) => round(lengthOf([wall[0], end]))).sort((a, b) => a - b) as Corner
  return { side, ...(from > 1 && { from }), ...(lengthOf(wall) - to > 1 && { to }) }
}

/** The length without the noise of adding it up: to a ten-thousandth of a mm. */
export function round(mm: number): number {
  return Number(mm.toFixed(4))
}
