import type { EntryKind } from '../../bridge/generated/EntryKind'

export type TestKind = 'flood' | 'cure' | 'heat-cable' | 'moisture' | 'slope-water' | 'coating'

/** One line of a form: what it is called, how it is typed, and what it begins with. */
export type Line = {
  key: string
  as: 'text' | 'length' | 'number' | 'percent' | 'yes' | 'choice'
  optional?: boolean
  of?: readonly string[]
  first?: string | number | boolean
}

const text = (key: string, first?: string): Line => ({ key, as: 'text', first })
const maybe = (line: Line): Line => ({ ...line, optional: true })
const number = (key: string, first?: number): Line => ({ key, as: 'number', first })
const length = (key: string, first?: number): Line => ({ key, as: 'length', first })
const yes = (key: string, first: boolean): Line => ({ key, as: 'yes', first })

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

/** The time now as the core keeps it: with its offset. */
export function nowAt(date = new Date()): string {
  const two = (n: number) => `${Math.floor(Math.abs(n))}`.padStart(2, '0')
  const day = [date.getFullYear(), two(date.getMonth() + 1), two(date.getDate())].join('-')
  const time = [date.getHours(), date.getMinutes(), date.getSeconds()].map(two).join(':')
  const offset = -date.getTimezoneOffset()
  return `${day}T${time}${offset < 0 ? '-' : '+'}${two(offset / 60)}:${two(offset % 60)}`
}
