import type { EntryKind } from '../../bridge/generated/EntryKind'
import { length, maybe, text, type Line } from '../../parts/lines'

export type BehindKind = 'hidden' | 'material' | 'person' | 'note'

const things = [
  'water-pipe',
  'drain-pipe',
  'gas-pipe',
  'cable',
  'heat-cable',
  'plate',
  'blocking',
  'hole',
  'joist',
  'other',
] as const

/** What is asked for each thing that the record holds. */
export const behindLines: Record<BehindKind, Line[]> = {
  hidden: [
    { key: 'thing', as: 'choice', of: things, first: 'water-pipe' },
    text('surface'),
    length('x'),
    length('y'),
    maybe(length('x2')),
    maybe(length('y2')),
    maybe(length('hidden_depth')),
    maybe(text('note')),
  ],
  material: [text('thing'), text('product'), maybe(text('batch')), maybe(text('expires'))],
  person: [text('name'), text('role')],
  note: [text('text')],
}

/** What was typed, as the record keeps it: the floor by one name in every language. */
export function entryOf(kind: BehindKind, values: Record<string, unknown>, floor: string): EntryKind {
  if (kind !== 'hidden') return { kind, ...values } as EntryKind
  const { x, y, x2, y2, hidden_depth, ...rest } = values
  const places = [[x, y], ...(x2 !== undefined && y2 !== undefined ? [[x2, y2]] : [])]
  const surface = `${rest.surface}`.toLowerCase() === floor.toLowerCase() ? 'floor' : rest.surface
  return { kind, ...rest, surface, places, ...(hidden_depth === undefined ? {} : { depth: hidden_depth }) } as EntryKind
}

/** The text of an entry that is private, where it has one. */
export function privateIn(what: EntryKind): 'name' | 'text' | undefined {
  if (what.kind === 'person' || what.kind === 'sign-off') return 'name'
  return what.kind === 'note' ? 'text' : undefined
}
