import type { EntryKind } from '../../bridge/generated/EntryKind'
import type { TestView } from '../../bridge/generated/TestView'
import { length, marked, type Shown } from '../../units'
import { words } from '../../words'

/** What an entry is called: its kind, and the thing or place it is about. */
export function nameOf(what: EntryKind): string {
  const own = ['product', 'place', 'name', 'surface'].map((key) => (what as Record<string, unknown>)[key])
  const about = own.find((value): value is string => typeof value === 'string')
  return [words().entry.kinds[what.kind], about].filter(Boolean).join(', ')
}

/** Why a test came to what it came to, with its figures. */
export function whySaid({ why, value, limit, entry }: TestView, units: Shown): string {
  const { what } = entry
  const figure = (number: number | null | undefined): string => {
    if (number == null) return ''
    if (what.kind === 'heat-cable') return marked(`${number.toFixed(1)} ${why === 'insulation-low' ? 'MΩ' : 'Ω'}`)
    if (what.kind === 'moisture') return marked(`${number} ${what.unit}`)
    return length(number, units, 16)
  }
  return words().tests.why[why](figure(value), figure(limit))
}
