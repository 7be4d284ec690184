import type { Layer } from '../../bridge/generated/Layer'
import { fromInches, type Shown } from '../../units'
import { words } from '../../words'

/** Kinds of layers as they are often found (common practice), to be measured before they are believed. */
export function shelf(units: Shown): Layer[] {
  const say = words().buildUp.usual
  const of = (inches: number, mm: number) => (units === 'mm' ? mm : fromInches(inches))
  return [
    { name: say.subfloor, thickness: of(23 / 32, 18) },
    { name: say.second, thickness: of(15 / 32, 12) },
    { name: say.bed, thickness: of(1 / 8, 3) },
    { name: say.thinBacker, thickness: of(1 / 4, 6) },
    { name: say.thickBacker, thickness: of(1 / 2, 12) },
    { name: say.uncoupling, thickness: of(1 / 8, 3) },
    { name: say.membrane, thickness: of(1 / 16, 1.5) },
    { name: say.compound, thickness: of(3 / 8, 10) },
    { name: say.mortarBed, thickness: of(2, 50), at_drain: of(1.25, 32) },
    { name: say.tray, thickness: of(1.25, 32), at_drain: of(1 / 2, 12) },
    { name: say.tileBed, thickness: of(1 / 8, 3) },
    { name: say.mosaic, thickness: of(5 / 16, 8) },
    { name: say.tile, thickness: of(3 / 8, 9) },
  ]
}
