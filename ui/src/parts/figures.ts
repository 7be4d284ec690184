import { overlap } from '../plots/labels'
import { widthOf } from '../plots/text'
import type { Box } from '../plots/frame'

/** A figure that stands in the place of a dot. */
export interface Figure {
  id: string
  x: number
  y: number
  text: string
  plate: { width: number; height: number }
}

/** The figures that can stand on a picture without covering one another, those at the front of the list first. */
export function standing(wanted: readonly Omit<Figure, 'plate'>[], size: number): Figure[] {
  const taken: Box[] = []
  return wanted.flatMap((one) => {
    const plate = { width: widthOf(one.text, size) + 2, height: size * 1.25 }
    const [left, top] = [one.x - plate.width / 2, one.y - plate.height / 2]
    const box = { left, top, right: left + plate.width, bottom: top + plate.height }
    if (taken.some((other) => overlap(box, other))) return []
    taken.push(box)
    return [{ ...one, plate }]
  })
}
