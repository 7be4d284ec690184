import type { RoomView } from '../bridge/generated/RoomView'
import { called, words } from '../words'
import { nameOf } from './room.svelte'
import { settings } from './settings.svelte'

/** What a change was about, as it is said: the point, the mark of a set-up, or the name itself. */
export function subjectOf(view: RoomView, subject: string | null | undefined): string {
  const point = view.surveys.flatMap(({ points }) => points).find(({ id }) => id === subject)
  if (point) return nameOf(point, settings.of(view.room))
  const mark = view.setups.find(({ setup }) => setup.id === subject)?.setup.benchmark.name
  const kind = subject && words().entry.kinds[subject]
  if (kind) return kind
  return called(mark ?? subject ?? '')
}
