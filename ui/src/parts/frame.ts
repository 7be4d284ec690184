type Spot = [number, number]

/**
 * How the plan lies in a picture of `wide` by `high` pixels: to scale, with room for words around it. As on the map the
 * wall that y is measured from is below: so one stands in it and looks into the room.
 */
export function frameOf(spots: Spot[], wide: number, high: number, margin = 36) {
  const xs = spots.map(([x]) => x)
  const ys = spots.map(([, y]) => y)
  const [left, right, near, far] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const room = (pixels: number, mm: number) => Math.max(1, pixels - 2 * margin) / Math.max(1, mm)
  const scale = Math.min(room(wide, right - left), room(high, far - near))
  const start = (pixels: number, mm: number) => (pixels - mm * scale) / 2
  const X = (x: number) => round(start(wide, right - left) + (x - left) * scale)
  const Y = (y: number) => round(start(high, far - near) + (far - y) * scale)
  return { left, right, near, far, scale, X, Y, at: ([x, y]: Spot) => `${X(x)} ${Y(y)}` }
}

function round(pixels: number): number {
  return Math.round(pixels * 10) / 10
}
