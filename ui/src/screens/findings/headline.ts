import type { FindingsView } from '../../bridge/generated/FindingsView'
import { words } from '../../words'

/** The room's verdict as sentences: the gauges first, where the bar was laid. */
export function headline(given: FindingsView, isJoist: (name: string) => boolean): string {
  const { walk, verdict, out, close } = given.headline
  if (!walk) return byHeights(given, isJoist)
  const gauges = words().findings.headline.gauges[walk.verdict](walk.gauged, walk.places, Math.max(walk.out, 1))
  const alone =
    (verdict === 'within' && walk.verdict === 'within') ||
    (verdict === 'out' && out.length === 0) ||
    (verdict === 'too-close-to-call' && close.length === 0)
  return alone ? gauges : `${gauges} ${byHeights(given, isJoist)}`
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
