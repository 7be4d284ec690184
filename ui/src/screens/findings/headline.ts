import type { FindingsView } from '../../bridge/generated/FindingsView'
import { distance, length } from '../../units'
import { called, words } from '../../words'
import type { Naming } from './naming'

/** The room's verdict as sentences: the gauges first, where the bar was laid. */
export function headline(given: FindingsView, naming: Naming): string {
  const { walk, verdict, out, close } = given.headline
  const heights = notReady(given, naming) ?? byHeights(given, naming.isJoist)
  if (!walk) return heights
  const gauges = words().findings.headline.gauges[walk.verdict](walk.gauged, walk.places, Math.max(walk.out, 1))
  const alone =
    (verdict === 'within' && walk.verdict === 'within') ||
    (verdict === 'out' && out.length === 0) ||
    (verdict === 'too-close-to-call' && close.length === 0)
  return alone ? gauges : `${gauges} ${heights}`
}

/** Of a floor that is out, what keeps it from being tiled: its highs and lows, and where the worst one is. */
function notReady({ headline, map }: FindingsView, { units }: Naming): string | undefined {
  const [worst] = map.marks.toSorted((a, b) => b.amount - a.amount)
  if (!headline.floor || headline.verdict !== 'out' || !worst) return undefined
  const say = words().findings.headline
  const highs = map.marks.filter(({ high }) => high).length
  const tile = headline.tile_edge == null ? undefined : distance(headline.tile_edge, units)
  const walls = worst.from_walls
    .toReversed()
    .map((one) => say.fromWall(distance(one.distance, units), called(one.wall)))
  const amount = length(worst.amount, units)
  return say.notReady(tile, highs, map.marks.length - highs, worst.high, amount, walls.join(', '))
}

/** What the heights say; `isJoist` tells which of the names are joists. */
function byHeights(given: FindingsView, isJoist: (name: string) => boolean): string {
  const view = given.headline
  const say = words().findings.headline
  switch (view.verdict) {
    case 'out': {
      const all = view.out.every(isJoist)
      const first = say.out(all ? view.out.length : 0, view.out.length)
      if (isOfFalls(given)) return first
      return `${first} ${view.rest_even ? say.restEven : say.restUneven}`
    }
    case 'too-close-to-call':
      return view.close.length > 0 && view.close.length <= 3
        ? say.closeNamed(view.close)
        : say.close(Math.max(view.close.length, 1))
    case 'within':
      return isTested(given) ? say.within : say.notTested
    case 'not-tested':
      return say.notTested
  }
}

/** Whether the floor is one that runs to a drain: no plane is asked of it. */
function isOfFalls({ findings }: FindingsView): boolean {
  return findings.some(({ kind }) => kind === 'pond' || kind.startsWith('fall-'))
}

/** Whether anything was judged but how the set-up closes: that says nothing of the floor. */
export function isTested({ headline, findings }: FindingsView): boolean {
  const tested = findings.some(({ kind, verdict }) => kind !== 'closing' && verdict === 'within')
  return headline.verdict !== 'within' || tested
}
