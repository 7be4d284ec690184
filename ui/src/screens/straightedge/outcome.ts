import type { StraightedgeWalk } from '../../bridge/generated/StraightedgeWalk'
import { words } from '../../words'

/** The verdict of the walk as a sentence. */
export function outcome({ verdict, placements, gauged }: StraightedgeWalk): string {
  const say = words().straightedge.headline
  const count = placements.filter((place) => place.gauged?.verdict === verdict).length
  switch (verdict) {
    case 'within':
      return say.within
    case 'out':
      return say.out(Math.max(count, 1))
    case 'too-close-to-call':
      return say['too-close-to-call'](Math.max(count, 1))
    case 'not-tested':
      return say['not-tested'](placements.length - gauged)
  }
}
