import type { Answered, Asked, Bridge } from './bridge'
import type { DevicesView } from './generated/DevicesView'
import type { EntryAsk } from './generated/EntryAsk'
import type { EntryView } from './generated/EntryView'
import type { ReadingAdd } from './generated/ReadingAdd'
import type { Requests } from './generated/Requests'
import type { RoomView } from './generated/RoomView'
import type { Write } from './generated/Write'
import type { Written } from './generated/Written'
import { laidOver } from './laid-over'
import { Recalled } from './recalled'
import type { Changes } from './generated/Changes'
import { Refused, refusedBy } from './refused'
import { UNREAD } from './unread'
import { Waiting, type Shelf, type Waits } from './waiting'

/** What is shown again while the home device is away. */
const SHOWN_AGAIN: (keyof Requests)[] = [
  'rooms',
  'room',
  'findings',
  'height',
  'cutting',
  'build-up',
  'fall',
  'tests',
  'rules',
  'crew',
]
/** What is shown with what waits here laid over it, or does not change with it; of the rest it is said when it was seen. */
const STANDS: (keyof Requests)[] = ['rooms', 'room', 'rules', 'crew']
/** Instruments belong to the home device. */
const NO_DEVICES: DevicesView = { seq: 0, looking: false, devices: [], waiting: [] }

/** What cannot be done before the home device answers. */
const AWAY = new Refused({ kind: 'away', message: '' })

/** A device of the crew: it asks the home device, and goes on entering while that is away. */
export class CrewBridge implements Bridge {
  readonly waiting: Waiting
  readonly #seen: Recalled
  readonly #links = new Set<(there: boolean) => void>()
  readonly #listeners = new Set<(changes: Changes) => void>()
  /** Told when something is shown as it was seen at a time, in milliseconds. */
  onRecalled: (at: number) => void = () => undefined
  #there = true
  #sending: Promise<void> = Promise.resolve()

  constructor(
    private readonly home: Bridge,
    shelf: Shelf,
  ) {
    this.waiting = new Waiting(shelf)
    this.#seen = new Recalled(shelf)
  }

  /** Whether the home device answered when it was last asked. */
  get there(): boolean {
    return this.#there
  }

  onChange: Bridge['onChange'] = (listener) => {
    this.#listeners.add(listener)
    const stop = this.home.onChange(listener)
    return () => {
      this.#listeners.delete(listener)
      stop()
    }
  }

  onLink(listener: (there: boolean) => void): () => void {
    this.#links.add(listener)
    return () => this.#links.delete(listener)
  }

  async ask<K extends keyof Requests>(name: K, body: Asked<K>): Promise<Answered<K>> {
    if (name.startsWith('device')) return NO_DEVICES as Answered<K>
    if (name === 'write') return (await this.#write(body as Write)) as Answered<K>
    if (name === 'undo' && this.waiting.open().length > 0) throw AWAY
    try {
      const answer = await this.#reach(name, body)
      if (SHOWN_AGAIN.includes(name)) this.#seen.keep(name, body, JSON.stringify(answer))
      return this.#over(name, answer)
    } catch (thrown) {
      return this.#without(name, body, refusedBy(thrown))
    }
  }

  /** Sends what waits, one after the other; it stops where the home device is away and goes on next time. */
  send(): Promise<void> {
    // One round after the other: two at once would send the same entry twice, harmless as that is.
    this.#sending = this.#sending.then(() => this.#sendAll())
    return this.#sending
  }

  async #sendAll(): Promise<void> {
    for (let next = this.waiting.open()[0]; next; next = this.waiting.open()[0]) {
      try {
        await this.#reach('write', await this.#understood(next))
        this.waiting.done(next.id)
      } catch (thrown) {
        const { kind, retry, message } = refusedBy(thrown)
        if (kind === 'no-link' || kind === 'not-joined' || retry) return
        this.waiting.keep({ ...next, refused: message })
      }
    }
  }

  /** Sent at once where nothing waits before it; else it is kept here first. Either way it is kept when this answers. */
  async #write(write: Write): Promise<Written> {
    const dated = { ...write, at: write.at ?? new Date().toISOString() }
    const unread = this.#isUnread(write)
    if (this.waiting.open().length === 0 && !unread) {
      try {
        return await this.#reach('write', dated)
      } catch (thrown) {
        const refused = refusedBy(thrown)
        if (refused.kind !== 'no-link' && refused.kind !== 'too-often') throw refused
      }
    }
    this.waiting.keep(unread ? { ...dated, unread } : dated)
    void this.send()
    return { id: write.id, seq: 0, repeat: false }
  }

  async #reach<K extends keyof Requests>(name: K, body: Asked<K>): Promise<Answered<K>> {
    try {
      const answer = await this.home.ask(name, body)
      this.#link(true)
      return answer
    } catch (thrown) {
      this.#link(refusedBy(thrown).kind !== 'no-link')
      throw thrown
    }
  }

  #link(there: boolean): void {
    if (there === this.#there) return
    this.#there = there
    this.#links.forEach((listener) => listener(there))
    // What was missed meanwhile was told to nobody.
    if (there) this.#listeners.forEach((listener) => listener({ room: '', seq: 0 }))
  }

  /** The answer with the home device away: what was last seen, or a number that is read there later. */
  #without<K extends keyof Requests>(name: K, body: Asked<K>, refused: Refused): Answered<K> {
    if (refused.kind !== 'no-link') throw refused
    if (name === 'entry') return this.#unreadEntry(body as EntryAsk) as Answered<K>
    if (name === 'length') return unreadLength((body as { text: string }).text) as Answered<K>
    const seen = this.#seen.get(name, body)
    if (seen === undefined) throw AWAY
    if (!STANDS.includes(name)) this.onRecalled(seen.at)
    return this.#over(name, JSON.parse(seen.answer))
  }

  #over<K extends keyof Requests>(name: K, answer: Answered<K>): Answered<K> {
    if (name !== 'room') return answer
    return laidOver(answer as RoomView, this.waiting.all()) as Answered<K>
  }

  #unreadEntry({ room, setup, text }: EntryAsk): EntryView {
    const seen = this.#seen.get('room', { room })
    const view = seen && laidOver(JSON.parse(seen.answer) as RoomView, this.waiting.all())
    const sd_mm = (view && view.setups.find((one) => one.setup.id === setup)?.setup.sd_mm) || 1
    const { mm: value, echo } = unreadLength(text)
    return { value, echo, sd_mm, differences: [], unusual: false }
  }

  /** Whether the numbers of a change were never understood by the core. Where that cannot be made good, it is refused. */
  #isUnread({ command, payload }: Write): boolean {
    if (!payload.includes(`${UNREAD}`)) return false
    const { value, sense, opening, closing, ...more } = JSON.parse(payload)
    const made = ['reading-add', 'setup-open', 'setup-close'].includes(command) && sense !== 'gap' && sense !== 'tilt'
    if (!made || JSON.stringify(more).includes(`${UNREAD}`)) throw AWAY
    return [value, opening?.mm, closing?.mm].includes(UNREAD)
  }

  /** A change whose number the core has understood now. The same text gives the same number, so a repeat is a repeat. */
  async #understood({ unread, refused: _, ...write }: Waits): Promise<Write> {
    if (!unread) return write
    const given = JSON.parse(write.payload)
    const sent = write.command === 'reading-add' ? await this.#read(write.room, given) : await this.#mark(write, given)
    return { ...write, payload: JSON.stringify(sent) }
  }

  async #read(room: string, reading: ReadingAdd): Promise<ReadingAdd> {
    const { setup, point, entered: text } = reading
    const { value, sd_mm } = await this.#reach('entry', { room, setup, point, text })
    return { ...reading, value, sd_mm }
  }

  async #mark(write: Write, given: { opening?: { text: string }; closing?: { text: string } }): Promise<object> {
    const of = given.opening ? 'opening' : 'closing'
    const { room } = await this.#reach('room', { room: write.room })
    const text = given[of]?.text ?? ''
    const { mm } = await this.#reach('length', { text, units: room.units, room: write.room })
    return { ...given, [of]: { ...given[of], mm } }
  }
}

function unreadLength(text: string) {
  return { mm: UNREAD, echo: { fraction: text, decimal_in: '', mm: '' } }
}
