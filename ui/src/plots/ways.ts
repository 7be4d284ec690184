import type { Place } from './frame'

/** How far along a way its arrow stands, and how long its barbs are, in px. */
const ALONG = 18
const BARB = 6

/** The head of an arrow some way along a line on the picture; none where the line is too short to carry one. */
export function arrowhead(places: readonly Place[]): string {
  let left = ALONG
  for (let at = 1; at < places.length; at += 1) {
    const [from, to] = [places[at - 1]!, places[at]!]
    const long = Math.hypot(to[0] - from[0], to[1] - from[1])
    if (long >= left) return head(from, to, left / long, long)
    left -= long
  }
  return ''
}

function head(from: Place, to: Place, share: number, long: number): string {
  const [dx, dy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long]
  const [x, y] = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]
  const barb = (side: number) =>
    `${(x - BARB * (dx - side * 0.7 * dy)).toFixed(1)} ${(y - BARB * (dy + side * 0.7 * dx)).toFixed(1)}`
  return `M${barb(1)}L${x.toFixed(1)} ${y.toFixed(1)}L${barb(-1)}`
}
