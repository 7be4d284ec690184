/** Where another reading is taken: on a stretch of a joist, or at one place of the floor. Lengths in mm. */
export type Spot =
  | { survey: string; joist: string; from: number; to: number }
  | { survey: string; joist?: undefined; x: number; y: number }

/** The spot as it stands in the address. */
export function partOf(spot: Spot): string {
  const [a, b] = spot.joist === undefined ? [spot.x, spot.y] : [spot.from, spot.to]
  return [spot.survey, spot.joist ?? '', a.toFixed(3), b.toFixed(3)].join(';')
}

/** The spot that an address names; nothing where it names none. */
export function spotOf(part: string | undefined): Spot | undefined {
  const [survey, joist, first, second] = part?.split(';') ?? []
  const [a, b] = [Number(first), Number(second)]
  if (!survey || !first || !second || !Number.isFinite(a) || !Number.isFinite(b)) return undefined
  return joist ? { survey, joist, from: Math.min(a, b), to: Math.max(a, b) } : { survey, x: a, y: b }
}
