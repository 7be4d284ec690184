import type { Headline } from '../../bridge/generated/Headline'
import { words } from '../../words'

/** The room's verdict as sentences; `joists` says which of the names are joists. */
export function headline(view: Headline, isJoist: (name: string) => boolean): string {
  const say = words().findings.headline
  switch (view.verdict) {
    case 'out': {
      const all = view.out.every(isJoist)
      const first = say.out(all ? view.out.length : 0, view.out.length)
      return `${first} ${view.rest_even ? say.restEven : say.restUneven}`
    }
    case 'too-close-to-call':
      return say.close(Math.max(view.close.length, 1))
    case 'within':
      return say.within
    case 'not-tested':
      return say.notTested
  }
}
