import type { AlternativeView } from '../../bridge/generated/AlternativeView'
import type { HeightView } from '../../bridge/generated/HeightView'
import { INCH, type Shown } from '../../units'

/** Lengths this close, in mm, are one. */
const SAME = 1e-3

/** The step of the keys: a sixteenth, or a millimetre. */
export function stepOf(units: Shown): number {
  if (units === 'decimal') return INCH / 20
  return units === 'in' ? INCH / 16 : 1
}

export function named(view: HeightView, name: string | null | undefined): AlternativeView | undefined {
  return view.alternatives.find((alternative) => alternative.name === name)
}

/** The alternative that was chosen, else the best, else the first. */
export function chosenOf(view: HeightView): AlternativeView | undefined {
  return named(view, view.chosen) ?? named(view, view.best) ?? view.alternatives[0]
}

/** The next height on the even marks of the rule, so many steps up. */
export function stepped(view: HeightView, from: number, steps: number, units: Shown): number {
  const step = stepOf(units)
  const line = view.line ?? 0
  return line - (Math.round((line - from) / step) - steps) * step
}

/** The larger rise of the doorway. */
export function doorRise({ door_rise }: AlternativeView): number | undefined {
  const rises = door_rise.filter((rise) => rise !== null)
  return rises.length ? Math.max(...rises) : undefined
}

/** The height at which the doorway rises by just what it may. */
export function doorHeight(view: HeightView, budget: number): number | undefined {
  const level = view.alternatives.find(({ tilt_x, tilt_y }) => tilt_x === 0 && tilt_y === 0)
  const rise = level && doorRise(level)
  return level && rise !== undefined ? level.height + budget - rise : undefined
}

/** The alternative of the least objective, whatever it needs, that keeps spilled water where it falls. */
export function cheapest(view: HeightView): AlternativeView | undefined {
  return view.alternatives
    .filter(({ name, caution_water }) => name !== 'held' && !caution_water)
    .reduce<AlternativeView | undefined>(
      (least, one) => (least && least.objective <= one.objective ? least : one),
      undefined,
    )
}

/** The level alternative that stands at a height, if one does. */
export function atHeight(view: HeightView, height: number): AlternativeView | undefined {
  return view.alternatives.find(
    (one) => one.name !== 'held' && one.tilt_x === 0 && one.tilt_y === 0 && Math.abs(one.height - height) < SAME,
  )
}

/** The joists that would be cut, here or in another alternative, without an approval for it. */
export function uncuttable(alternatives: readonly AlternativeView[]): string[] {
  const barred = alternatives
    .filter(({ needs_approval }) => needs_approval)
    .flatMap(({ joists }) => joists.filter((joist) => !joist.approval && wantsCut(joist.cuts, joist.action)))
  return [...new Set(barred.map(({ id }) => id))].sort((a, b) => a.localeCompare(b, undefined, { numeric: true }))
}

export function wantsCut(cuts: readonly (number | null)[], action: string): boolean {
  return action === 'ask-engineer' || cuts.some((cut) => (cut ?? 0) > 0)
}
