import type { AlternativeView } from '../../bridge/generated/AlternativeView'
import type { HeightView } from '../../bridge/generated/HeightView'
import type { Plan } from '../../bridge/generated/Plan'
import { distance, figure, length, type Shown } from '../../units'
import { called, words } from '../../words'
import { uncuttable } from './choice'

/** The height in a sentence: a reading down from the line, or how the floor runs. */
export function title(one: AlternativeView, units: Shown): string {
  const say = words().height
  if (typeof one.hold === 'number') return say.hold(figure(one.hold, units))
  if (one.tilt_x === 0 && one.tilt_y === 0) return say.over(figure(one.height, units))
  return say.flat
}

/** How much a floor that is not level runs up or down, along the room and across it. */
export function runs(one: AlternativeView, view: HeightView, plan: Plan | null | undefined, units: Shown): string[] {
  const say = words().height
  const first = view.stations[0] ?? 0
  const along = (view.stations.at(-1) ?? first) - first
  const places = plan?.joists.map(({ at }) => at) ?? []
  const across = places.length ? Math.max(...places) - Math.min(...places) : 0
  const turned = plan?.joists_along === 'x'
  const said = (tilt: number, over: number, wall: string) => {
    const rise = tilt * over
    if (Math.abs(rise) < 0.5) return []
    const run = rise > 0 ? say.runs : say.runsDown
    return [run(length(Math.abs(rise), units), distance(over, units), wall)]
  }
  const [base, side] = [called(plan?.base_wall ?? ''), called(plan?.side_wall ?? '')]
  return [...said(one.tilt_y, turned ? across : along, base), ...said(one.tilt_x, turned ? along : across, side)]
}

/** How many joists only an engineer may say about. */
export function asks({ joists }: AlternativeView): number {
  return joists.filter(({ action }) => action === 'ask-engineer').length
}

/** What it takes, as a sentence. */
export function work(one: AlternativeView): string {
  const said = words().height.work(one.strips, one.sisters, one.cuts, asks(one))
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`
}

/** The rise at each jamb as bare figures. */
export function jambs(one: AlternativeView, units: Shown): string[] {
  return one.door_rise.map((rise) => (rise === null ? '?' : figure(rise, units)))
}

/** What the doorway does, with what it may. */
export function door(one: AlternativeView, budget: number | null | undefined, units: Shown): string {
  const say = words().height
  const [near, far] = one.door_rise
  if (typeof near !== 'number' || typeof far !== 'number') return ''
  const rises = say.door(say.eitherJamb(length(near, units), length(far, units)))
  return typeof budget === 'number' ? `${rises}; ${say.allowed(length(budget, units))}.` : `${rises}.`
}

/** The approval that it waits for or has; none where nothing is cut. */
function approval(one: AlternativeView): string {
  const say = words().height
  if (!one.needs_approval) return ''
  if (uncuttable([one]).length) return say.needsApproval
  return one.cuts > 0 ? say.approvalOnRecord : ''
}

/** What it takes, marked: approval, door, water. */
export function flags(one: AlternativeView): string[] {
  const say = words().height
  return [approval(one), one.over_door_budget ? say.overBudget : '', one.caution_water ? say.water : ''].filter(Boolean)
}

/** The joists that nobody has looked at. */
export function unlooked(view: HeightView): string[] {
  return view.problems.flatMap(({ kind, at }) => (kind === 'not-looked-at' && at ? [at] : []))
}
