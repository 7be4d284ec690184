import type { MapBand } from '../bridge/generated/MapBand'

export interface Painted {
  polygons: [number, number][][]
  /** How strong the colour is: -1 lowest, 0 at the reference, 1 highest. */
  strength: number
}

/** Heights below this, on either side, are drawn pale, so that an even floor does not look wild. In mm. */
const FULL = 12.7

/**
 * The bands in the order they are painted, lowest first. Each is painted together with all above it, so that none
 * shows the paper through the seam to the next.
 */
export function painted(bands: readonly MapBand[]): Painted[] {
  const rising = [...bands].sort((a, b) => a.from - b.from)
  const full = Math.max(FULL, ...bands.flatMap(({ from, to }) => [Math.abs(from), Math.abs(to)]))
  return rising.map(({ from, to }, index) => ({
    polygons: rising.slice(index).flatMap((band) => band.polygons),
    strength: from < 0 && to > 0 ? 0 : (from + to) / 2 / full,
  }))
}

/** The colour of a strength: orange above, blue below, both fading into the sheet. */
export function colour(strength: number): string {
  const side = strength > 0 ? 'var(--high)' : 'var(--low)'
  const share = strength === 0 ? 0 : 12 + 76 * Math.abs(strength)
  return `color-mix(in oklab, ${side} ${share.toFixed(0)}%, var(--paper))`
}
