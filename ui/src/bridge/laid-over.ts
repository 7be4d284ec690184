import type { PointView } from './generated/PointView'
import type { ReadingAdd } from './generated/ReadingAdd'
import type { RoomView } from './generated/RoomView'
import type { SetupClose } from './generated/SetupClose'
import type { SetupOpen } from './generated/SetupOpen'
import type { Waits } from './waiting'

/** A room as it was last seen, with what waits on this device laid over it: what was entered is not asked for again. */
export function laidOver(view: RoomView, waits: Waits[]): RoomView {
  return waits.filter(({ room, refused }) => room === view.room.id && !refused).reduce(over, view)
}

function over(view: RoomView, { command, payload, at }: Waits): RoomView {
  if (command === 'reading-add') return withReading(view, JSON.parse(payload), at ?? '')
  if (command === 'setup-open') return withSetup(view, JSON.parse(payload))
  if (command === 'setup-close') return closed(view, JSON.parse(payload))
  return view
}

function withReading(view: RoomView, added: ReadingAdd, at: string): RoomView {
  const read = (point: PointView): PointView => (point.id === added.point ? readAs(point, added, at) : point)
  const surveys = view.surveys.map((survey) => {
    const points = survey.points.map(read)
    const unread = points.filter(({ reading }) => !reading)
    return { ...survey, points, read: points.length - unread.length, next: unread[0]?.id ?? null }
  })
  return { ...view, surveys }
}

function readAs(point: PointView, added: ReadingAdd, at: string): PointView {
  const { reading: id, setup, sense, entered, value, sd_mm, source } = added
  if (point.reading?.id === id) return point
  const corrections = (point.reading?.corrections ?? 0) + (added.supersedes ? 1 : 0)
  const reading = { id, setup, sense, entered, value, sd_mm, at: added.at ?? at, source, corrections }
  const edge = added.edge ? [{ edge: added.edge, reading: id, entered }] : []
  const edges = [...point.edges.filter((read) => read.edge !== added.edge), ...edge]
  return { ...point, reading, edges }
}

function withSetup(view: RoomView, setup: SetupOpen): RoomView {
  const known = view.setups.some((one) => one.setup.id === setup.setup)
  const { setup: id, ...more } = setup
  return known ? view : { ...view, setups: [...view.setups, { setup: { id, ...more } }] }
}

function closed(view: RoomView, { setup: id, closing }: SetupClose): RoomView {
  const close = (one: RoomView['setups'][number]) =>
    one.setup.id === id ? { ...one, setup: { ...one.setup, closing } } : one
  return { ...view, setups: view.setups.map(close) }
}
