import type { EntryKind } from '../../bridge/generated/EntryKind'
import { maybe, secret, text, type Line } from '../../parts/lines'

export type BehindKind = 'material' | 'person' | 'note'

/** What can lie behind a surface. */
export const things = [
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
  material: [text('thing'), text('product'), maybe(text('batch')), maybe(text('expires'))],
  person: [secret(text('name')), text('role')],
  note: [text('text')],
}

/** The text of an entry that is private, where it has one. */
export function privateIn(what: EntryKind): 'name' | 'text' | undefined {
  if (what.kind === 'person' || what.kind === 'sign-off') return 'name'
  return what.kind === 'note' ? 'text' : undefined
}
