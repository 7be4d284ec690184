import type { RecordEntry } from './generated/RecordEntry'
import { bridge } from './bridge'
import { newId } from './id'
import { write } from './write'

/** Puts an entry on the record; the text under `secret` enters the journal as its digest alone. */
export async function putEntry(room: string, entry: RecordEntry, secret?: string): Promise<void> {
  const value = secret && (entry.what as Record<string, unknown>)[secret]
  if (!secret || typeof value !== 'string') {
    await write(room, 'entry-put', { entry })
    return
  }
  const { digest, salt } = await bridge.ask('seal', { value })
  const what = { ...entry.what, [secret]: digest } as RecordEntry['what']
  await write(room, 'entry-put', { entry: { ...entry, what } }, newId(), bridge, [{ salt, value }])
}
