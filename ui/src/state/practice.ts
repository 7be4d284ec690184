import { bridge } from '../bridge/bridge'
import type { RoomFile } from '../bridge/generated/RoomFile'
import { newId } from '../bridge/id'
import { write } from '../bridge/write'
import { words } from '../words'
import { settings } from './settings.svelte'

/** Makes a room to practise in: a demo room with its readings set aside, which its tape shows again. */
export async function startPractice(): Promise<string> {
  const { room } = await bridge.ask('demo', { name: 'kestrel', id: newId() })
  const view = await bridge.ask('room', { room })
  const setup = view.setups[0]?.setup
  const read = view.surveys.flatMap(({ points }) => points).filter(({ reading }) => reading)
  const { text } = await bridge.ask('room-export', { room })
  const readings = (JSON.parse(text) as RoomFile).readings.map(({ id }) => id)
  await write(room, 'readings-withdraw', { readings, withdrawn: true })
  if (setup) await write(room, 'setup-withdraw', { setup: setup.id })
  await write(room, 'room-rename', { name: words().practice.room })
  settings.practice = {
    room,
    opening: setup?.opening.mm ?? 0,
    closing: setup?.closing?.mm ?? setup?.opening.mm ?? 0,
    points: Object.fromEntries(read.map(({ id, reading }) => [id, reading!.value])),
  }
  return room
}
