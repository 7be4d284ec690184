import type { RoomView } from '../../bridge/generated/RoomView'
import type { Tiling } from '../../bridge/generated/Tiling'
import { INCH } from '../../units'
import { words } from '../../words'

/** A tile and two surfaces to begin with (common practice), the floor as wide as the plan has it. */
export function usual({ room, plan }: RoomView): Tiling {
  const say = words().tiles
  const of = (inches: number, mm: number) => (room.units === 'in' ? inches * INCH : mm)
  const across = (axis: 0 | 1) => plan?.outline.map((corner) => corner[axis]) ?? []
  const span = (axis: 0 | 1, otherwise: number) =>
    across(axis).length ? Math.max(...across(axis)) - Math.min(...across(axis)) : otherwise
  const [wide, deep] = [span(0, of(60, 1500)), span(1, of(36, 900))]
  return {
    wide: of(12, 300),
    high: of(24, 600),
    joint: of(1 / 8, 3),
    edge: of(1 / 4, 6),
    least_cut: of(2, 50),
    waste: 0.1,
    warpage: 0,
    surfaces: [
      { name: say.wall, wide, high: of(96, 2400), across: 'balanced', up: 'whole-first' },
      { name: say.floor, wide, high: deep, across: 'balanced', up: 'balanced' },
    ],
  }
}
