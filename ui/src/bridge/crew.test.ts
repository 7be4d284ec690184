import { describe, expect, test } from 'vitest'
import type { Bridge } from './bridge'
import { CrewBridge } from './crew'
import type { RoomView } from './generated/RoomView'
import type { Write } from './generated/Write'
import { Refused } from './refused'
import { UNREAD } from './unread'
import type { Shelf } from './waiting'

/** What a browser keeps. */
function shelf(): Shelf {
  const kept = new Map<string, string>()
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
    key: (at) => [...kept.keys()][at] ?? null,
    get length() {
      return kept.size
    },
  }
}

const noLink = () => new Refused({ kind: 'no-link', message: '' })

/** A room with a set-up and three points, as far as the bridge looks at it. */
function room(): RoomView {
  const points = ['A1', 'A2', 'A3'].map((id) => ({ id, x: 0, y: 0, station: 0, edges: [], reading: null }))
  const setups = [{ setup: { id: 's', sd_mm: 0.8 } }]
  const surveys = [{ id: 'floor', name: 'floor', surface: 'floor', points, read: 0, next: 'A1' }]
  return { room: { id: 'r', name: 'Bath', units: 'in', created: '' }, surveys, setups } as unknown as RoomView
}

/** The home device: it takes each id once, and the link may fail before it or on the way back. */
class Home implements Bridge {
  link: () => 'there' | 'away' | 'answer-lost' = () => 'there'
  taken: Write[] = []
  asked: string[] = []

  onChange = () => () => {}

  async ask(name: string, body: unknown): Promise<never> {
    const link = this.link()
    if (link === 'away') throw noLink()
    const answer = this.#answer(name, body)
    if (link === 'answer-lost') throw noLink()
    return answer as never
  }

  #answer(name: string, body: unknown): unknown {
    this.asked.push(name)
    if (name === 'room') return room()
    if (name === 'entry') return { value: 25.4 * Number((body as { text: string }).text), sd_mm: 0.8 }
    if (name !== 'write') return {}
    const write = body as Write
    const known = this.taken.find(({ id }) => id === write.id)
    if (known && known.payload !== write.payload) throw new Refused({ kind: 'id-reused', message: 'another payload' })
    if (write.command === 'room-archive') throw new Refused({ kind: 'not-allowed', message: 'for home alone' })
    if (!known) this.taken.push(write)
    return { id: write.id, seq: this.taken.length, repeat: !!known }
  }
}

const renamed = (id: string): Write => ({
  id,
  room: 'r',
  command: 'room-rename',
  payload: JSON.stringify({ name: id }),
})
const read = (id: string, point: string, entered: string, value: number): Write => ({
  id,
  room: 'r',
  command: 'reading-add',
  payload: JSON.stringify({
    reading: `x${id}`,
    setup: 's',
    point,
    sense: 'down',
    entered,
    value,
    sd_mm: 1,
    source: 'typed',
  }),
})

/** Numbers that look like chance and are the same each time. */
function chance(seed: number): () => number {
  let state = seed
  return () => (state = (state * 1103515245 + 12345) % 2147483648) / 2147483648
}

test.each(Array.from({ length: 40 }, (_, seed) => seed))(
  'whatever the link does, each entry arrives once (%i)',
  async (seed) => {
    const [home, kept, next] = [new Home(), shelf(), chance(seed + 1)]
    const ids = Array.from({ length: 30 }, (_, at) => `id-${String(at).padStart(3, '0')}`)
    home.link = () => (next() < 0.4 ? 'away' : next() < 0.4 ? 'answer-lost' : 'there')
    let bridge = new CrewBridge(home, kept)
    for (const id of ids) {
      await bridge.ask('write', renamed(id))
      if (next() < 0.3) await bridge.send()
      // The browser is closed and opened again.
      if (next() < 0.2) bridge = new CrewBridge(home, kept)
    }
    home.link = () => 'there'
    await bridge.send()
    await bridge.send()
    expect(home.taken.map(({ id }) => id)).toEqual(ids)
    expect(bridge.waiting.all()).toEqual([])
  },
)

describe('with the home device away', () => {
  test('a room that was seen is shown, with what was entered since', async () => {
    const home = new Home()
    const bridge = new CrewBridge(home, shelf())
    await bridge.ask('room', { room: 'r' })
    home.link = () => 'away'
    const { value } = await bridge.ask('entry', { room: 'r', setup: 's', point: 'A1', text: '44.5' })
    expect(value).toBe(UNREAD)
    await bridge.ask('write', read('1', 'A1', '44.5', value))
    const [survey] = (await bridge.ask('room', { room: 'r' })).surveys
    expect([survey!.read, survey!.next, survey!.points[0]!.reading!.entered]).toEqual([1, 'A2', '44.5'])
    await expect(bridge.ask('room', { room: 'other' })).rejects.toMatchObject({ kind: 'away' })
  })

  test('a number is understood at home before it is sent, and never sent unread', async () => {
    const home = new Home()
    const bridge = new CrewBridge(home, shelf())
    home.link = () => 'away'
    await bridge.ask('write', read('1', 'A1', '44.5', UNREAD))
    home.link = () => 'there'
    await bridge.send()
    expect(JSON.parse(home.taken[0]!.payload)).toMatchObject({ entered: '44.5', value: 44.5 * 25.4, sd_mm: 0.8 })
  })

  test('what was judged is shown with the time at which it was seen, and all is asked anew when the link is back', async () => {
    const home = new Home()
    const bridge = new CrewBridge(home, shelf())
    const [told, seen]: [string[], number[]] = [[], []]
    bridge.onChange(({ room }) => told.push(room))
    bridge.onRecalled = (at) => seen.push(at)
    await bridge.ask('room', { room: 'r' })
    await bridge.ask('findings', { room: 'r' })
    home.link = () => 'away'
    await bridge.ask('room', { room: 'r' })
    expect([seen, told]).toEqual([[], []])
    await bridge.ask('findings', { room: 'r' })
    expect(seen).toHaveLength(1)
    expect(seen[0]).toBeGreaterThan(0)
    home.link = () => 'there'
    await bridge.ask('crew-here', { page: 'rooms' })
    expect(told).toEqual([''])
  })

  test('what needs a number now is not taken', async () => {
    const bridge = new CrewBridge(new Home(), shelf())
    const plan: Write = { id: '1', room: 'r', command: 'plan-set', payload: JSON.stringify({ plan: { x: UNREAD } }) }
    await expect(bridge.ask('write', plan)).rejects.toMatchObject({ kind: 'away' })
    expect(bridge.waiting.all()).toEqual([])
  })

  test('nothing entered later goes before what waits', async () => {
    const home = new Home()
    const bridge = new CrewBridge(home, shelf())
    home.link = () => 'away'
    await bridge.ask('write', renamed('1'))
    home.link = () => 'there'
    await bridge.ask('write', renamed('2'))
    await bridge.send()
    expect(home.taken.map(({ id }) => id)).toEqual(['1', '2'])
  })

  test('a full device says so and keeps the field as it is', async () => {
    const full = {
      ...shelf(),
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError')
      },
    }
    const home = new Home()
    home.link = () => 'away'
    await expect(new CrewBridge(home, full).ask('write', renamed('1'))).rejects.toThrow('full')
  })
})

test('what home does not take stays here with its reason, and what came after it is sent', async () => {
  const home = new Home()
  const bridge = new CrewBridge(home, shelf())
  home.link = () => 'away'
  await bridge.ask('write', { id: '1', room: 'r', command: 'room-archive', payload: '{}' })
  await bridge.ask('write', renamed('2'))
  home.link = () => 'there'
  await bridge.send()
  expect(home.taken.map(({ id }) => id)).toEqual(['2'])
  expect(bridge.waiting.all()).toMatchObject([{ id: '1', refused: 'for home alone' }])
  expect(bridge.waiting.open()).toEqual([])
})
