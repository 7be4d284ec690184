// Rooms to begin with, made by the core.
import { ask, write } from './host.mjs'

/** A fresh copy of a demo room; its id. */
export const demo = async (page, name = 'kestrel') => (await ask(page, 'demo', { name, id: crypto.randomUUID() })).room

/** A room of which only the name is known, in inches unless others are given; its id. */
export async function newRoom(page, more = {}) {
  const room = crypto.randomUUID()
  await write(page, room, 'room-new', { name: 'Hall bath', units: 'in', created: '2036-03-02T08:15:00Z', ...more })
  return room
}
