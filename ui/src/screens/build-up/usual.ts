import type { Layers } from '../../bridge/generated/Layers'
import type { Units } from '../../bridge/generated/Units'
import { fromInches } from '../../units'
import { words } from '../../words'

/** Layers as they are often laid (common practice), to be changed to the real ones. */
export function usual(units: Units): Layers {
  const say = words().buildUp.usual
  const of = (inches: number, mm: number) => (units === 'in' ? fromInches(inches) : mm)
  const [bed, membrane] = [of(1 / 8, 3), of(1 / 16, 1.5)]
  return {
    room: [
      { name: say.bed, thickness: bed },
      { name: say.backer, thickness: of(1 / 4, 6) },
      { name: say.membrane, thickness: membrane },
      { name: say.tileBed, thickness: bed },
      { name: say.tile, thickness: of(3 / 8, 9) },
    ],
    shower: [
      { name: say.bed, thickness: bed },
      { name: say.tray, thickness: of(1.25, 32), at_drain: of(1 / 2, 12) },
      { name: say.membrane, thickness: membrane },
      { name: say.tileBed, thickness: bed },
      { name: say.mosaic, thickness: of(5 / 16, 8) },
    ],
    shower_deck: -of(3 / 4, 19),
  }
}
