import { length, maybe, number, text, yes, type Line } from '../../parts/lines'
import type { EntryKind } from '../../bridge/generated/EntryKind'
import type { BehindKind } from '../behind/kinds'

/** Every entry that is a test. */
export type TestKind = Exclude<EntryKind['kind'], BehindKind | 'photograph' | 'hidden' | 'sign-off' | 'as-built'>

/** What is asked for each test; what it begins with is ours and may be changed. */
export const testLines: Record<TestKind, Line[]> = {
  flood: [
    text('place'),
    length('depth'),
    number('hours'),
    yes('below_looked_at', false),
    maybe(text('dam')),
    maybe(number('water_c')),
    maybe(number('air_c')),
  ],
  cure: [text('product'), number('hours'), maybe(text('batch')), maybe(number('air_c')), maybe(number('least_c'))],
  'heat-cable': [
    text('product'),
    number('label_ohms'),
    { key: 'less', as: 'percent', first: 10 },
    { key: 'more', as: 'percent', first: 10 },
    number('insulation_least', 20),
    maybe(length('from_drain')),
    maybe(text('sensor')),
  ],
  moisture: [
    text('substrate'),
    text('method'),
    text('place'),
    number('value'),
    number('u', 0.5),
    number('most'),
    text('unit', '%'),
    text('limit_from'),
  ],
  'slope-water': [text('place'), number('minutes', 10), yes('stands', false), maybe(length('deepest'))],
  coating: [
    { key: 'measured', as: 'choice', of: ['lap', 'thickness'], first: 'lap' },
    text('product'),
    text('place'),
    length('value'),
    length('u', 1),
    length('least'),
    text('limit_from'),
  ],
}

/** What is asked when a test that is under way is looked at again. */
export const lookLines: Partial<Record<TestKind, Line[]>> = {
  flood: [length('drop'), maybe(length('control'))],
  'heat-cable': [
    { key: 'stage', as: 'choice', of: ['delivered', 'laid', 'covered', 'tiled'], first: 'delivered' },
    number('ohms'),
    number('u', 0.2),
    maybe(number('insulation')),
    maybe(number('volts', 500)),
  ],
}

/** The lists that a test begins with, and the time where it needs one. */
export function begun(kind: TestKind, now: string): object {
  if (kind === 'flood') return { marks: [] }
  if (kind === 'heat-cable') return { readings: [], device_tested: [] }
  if (kind === 'cure') return { finished: now }
  return {}
}

/** The same entry with one more look. */
export function lookedAt(what: EntryKind, look: object, at: string): EntryKind {
  if (what.kind === 'flood') return { ...what, marks: [...what.marks, { ...look, at } as (typeof what.marks)[number]] }
  if (what.kind !== 'heat-cable') return what
  return { ...what, readings: [...what.readings, { ...look, at } as (typeof what.readings)[number]] }
}
