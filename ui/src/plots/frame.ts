/** A place on the plan in mm, or on the picture in px. */
export type Place = readonly [number, number]

export interface Box {
  left: number
  top: number
  right: number
  bottom: number
}

/** How far the picture is enlarged, and what place of the plan lies at its middle. */
export interface View {
  zoom: number
  middle: Place
}

/** The way from the plan (y into the room) to the picture (y down). */
export interface Frame {
  box: Box
  /** Pixels per mm. */
  scale: number
  x(mm: number): number
  y(mm: number): number
  /** The place of the plan under a pixel. */
  plan(at: Place): Place
}

export function extent(places: Iterable<Place>): Box {
  const box = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity }
  for (const [x, y] of places) {
    box.left = Math.min(box.left, x)
    box.right = Math.max(box.right, x)
    box.top = Math.min(box.top, y)
    box.bottom = Math.max(box.bottom, y)
  }
  return box.left > box.right ? { left: 0, top: 0, right: 1, bottom: 1 } : box
}

/** The view that shows the whole plan. */
export function whole(plan: Box): View {
  return { zoom: 1, middle: [(plan.left + plan.right) / 2, (plan.top + plan.bottom) / 2] }
}

/** Fits the plan into the box at zoom 1 and enlarges it about the view's middle. */
export function frameOf(plan: Box, box: Box, view: View): Frame {
  const across = Math.max(plan.right - plan.left, 1)
  const into = Math.max(plan.bottom - plan.top, 1)
  const scale = view.zoom * Math.min((box.right - box.left) / across, (box.bottom - box.top) / into)
  const [centreX, centreY] = [(box.left + box.right) / 2, (box.top + box.bottom) / 2]
  const [middleX, middleY] = view.middle
  return {
    box,
    scale,
    x: (mm) => centreX + (mm - middleX) * scale,
    y: (mm) => centreY - (mm - middleY) * scale,
    plan: ([x, y]) => [middleX + (x - centreX) / scale, middleY - (y - centreY) / scale],
  }
}

/** The view enlarged `by`, with the place at `about` staying where it is, never smaller than the whole plan. */
export function enlarged(view: View, plan: Box, by: number, about: Place = view.middle): View {
  const zoom = Math.min(8, Math.max(1, view.zoom * by))
  if (zoom === 1) return whole(plan)
  const share = view.zoom / zoom
  const middle: Place = [about[0] + (view.middle[0] - about[0]) * share, about[1] + (view.middle[1] - about[1]) * share]
  return kept({ zoom, middle }, plan)
}

/** The view moved so that `middle` lies at its middle, but never off the plan. */
export function moved(view: View, plan: Box, middle: Place): View {
  return kept({ zoom: view.zoom, middle }, plan)
}

function kept({ zoom, middle }: View, plan: Box): View {
  const half = (low: number, high: number) => (high - low) / 2 / zoom
  const between = (value: number, low: number, high: number) =>
    Math.min(Math.max(value, low + half(low, high)), high - half(low, high))
  return { zoom, middle: [between(middle[0], plan.left, plan.right), between(middle[1], plan.top, plan.bottom)] }
}

export function contains(box: Box, [x, y]: Place): boolean {
  return x >= box.left && x <= box.right && y >= box.top && y <= box.bottom
}

export function path(places: readonly Place[], frame: Frame, closed = true): string {
  const steps = places.map(([x, y]) => `${frame.x(x).toFixed(1)} ${frame.y(y).toFixed(1)}`)
  return steps.length ? `M${steps.join('L')}${closed ? 'Z' : ''}` : ''
}
