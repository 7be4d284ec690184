import type { Forbidden } from '../../bridge/generated/Forbidden'
import type { WantedCut } from '../../bridge/generated/WantedCut'
import type { Why } from '../../bridge/generated/Why'
import { distance, length, limit, type Shown } from '../../units'
import { words } from '../../words'

/** Why a joist gets the work it gets, as a sentence. */
export function reason({ kind, amount, cut, forbids }: Why, units: Shown): string {
  const say = words().why[kind]
  if (typeof say === 'string') return say
  if (cut) return [(say as Cutting)(...stretch(cut, units)), ...forbids.map((one) => forbidden(one, units))].join(' ')
  return (say as (amount: string) => string)(length(amount ?? 0, units))
}

type Cutting = (depth: string, from: string, to: string) => string

/** How deep, from where and to where. */
function stretch({ depth, from, to }: WantedCut, units: Shown): [string, string, string] {
  return [length(depth, units), distance(from, units), distance(to, units)]
}

/** Why the guard does not allow a cut. */
export function forbidden({ by, limit: most, notch }: Forbidden, units: Shown): string {
  const say: (limit: string, notch: string) => string = words().forbids[by]
  return say(limit(most ?? 0, units), limit(notch ?? 0, units))
}
