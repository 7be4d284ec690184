import type { Bridge } from './bridge'
import type { Commands } from './generated/Commands'
import type { PrivateText } from './generated/PrivateText'
import type { Written } from './generated/Written'
import { bridge } from './bridge'
import { newId } from './id'
import { refusedBy } from './refused'

/** How often a write is sent before the failing link is reported. The id stays, so a repeat is harmless. */
const TRIES = 3

/** Makes one change and answers once it is on disk. Sent again after a failure, it keeps its `id`. */
export async function write<K extends keyof Commands>(
  room: string,
  command: K,
  payload: Commands[K],
  id: string = newId(),
  by: Bridge = bridge,
  hidden: PrivateText[] = [],
): Promise<Written> {
  const body = { id, room, command, payload: JSON.stringify(payload), ...(hidden.length ? { private: hidden } : {}) }
  return repeated(() => by.ask('write', body))
}

/** Takes back the last change of the room. */
export async function undo(room: string, id: string = newId(), by: Bridge = bridge): Promise<Written> {
  const body = { id, room }
  return repeated(() => by.ask('undo', body))
}

/** The answer of the first try that gets one; a refusal of the core is an answer. */
export async function repeated<T>(attempt: () => Promise<T>): Promise<T> {
  for (let tried = 1; ; tried += 1) {
    try {
      return await attempt()
    } catch (thrown) {
      const refused = refusedBy(thrown)
      if (refused.kind !== 'no-link' || tried >= TRIES) throw refused
    }
  }
}
