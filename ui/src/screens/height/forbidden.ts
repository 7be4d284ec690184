import type { AlternativeView } from '../../bridge/generated/AlternativeView'
import type { RoomView } from '../../bridge/generated/RoomView'
import { stationText } from '../../state/room.svelte'
import { distance, length, type Shown } from '../../units'
import { words } from '../../words'
import { uncuttable } from './choice'

/** What may not be done to the joists: which are not cut at all, and which only as it was approved. */
export function forbidden(alternatives: readonly AlternativeView[], { approvals }: RoomView, units: Shown): string {
  const say = words().cutList
  const approved = approvals.filter(({ withdrawn }) => !withdrawn)
  const barred = uncuttable(alternatives).filter((joist) => !approved.some((approval) => approval.joist === joist))
  const only = approved.map(({ joist, depth, from, to }) =>
    say.onlyAs(joist, length(depth, units), stationText(from, units), distance(to, units)),
  )
  const all = [barred.length ? say.forbidden(barred) : '', ...only].filter(Boolean)
  return all.length ? all.join(' ') : say.noCut
}
