import { bridge } from '../bridge/bridge'
import type { Benchmark } from '../bridge/generated/Benchmark'
import type { Commands } from '../bridge/generated/Commands'
import type { DeviceReading } from '../bridge/generated/DeviceReading'
import type { EntryView } from '../bridge/generated/EntryView'
import type { LengthView } from '../bridge/generated/LengthView'
import type { PointView } from '../bridge/generated/PointView'
import type { RoomView } from '../bridge/generated/RoomView'
import type { Sense } from '../bridge/generated/Sense'
import { newId } from '../bridge/id'
import { refusedBy, type Refused } from '../bridge/refused'
import { undo, write } from '../bridge/write'
import { called, words } from '../words'
import type { Asked } from './asked.svelte'
import { Attempt } from './attempt'
import { Entry } from './entry.svelte'
import { Once } from './once'
import { lastRead, nameOf, nextUnread, surveyOf } from './room.svelte'
import { type Shown } from '../units'

export type Stage = 'no-points' | 'set-up' | 'opening' | 'reading' | 'closing' | 'closed'

/** How the instrument stands, chosen before the benchmark is read. */
export type Standing = { instrument: string; sd_mm: number; sense: Sense; benchmark: Benchmark }

/** One walk over the points of a survey: where one is, what is entered, what was kept. */
export class Walk {
  readonly entry: Entry
  standing = $state.raw<Standing>()
  refused = $state.raw<Refused>()
  /** What was last kept, for those who listen. */
  said = $state('')
  busy = $state(false)
  bumped = $state(false)
  /** A reading of a point that was read counts with the one before it: their mean is the height. */
  together = $state(false)
  /** Both edges of each joist are read, the left one first: a twisted one carries the sheet on the higher. */
  bothEdges = $state(false)
  #cursor = $state<string>()
  #finishing = $state(false)
  /** The number that was to be kept and is asked about. */
  #doubted = $state<string>()
  /** The edge that is read once more, where the first number was another one's. */
  #edgeAgain = $state<'left' | 'right'>()
  /** The set-up was just closed: how it closed is looked at before anything else. */
  #justClosed = $state(false)
  #understood = $state.raw<{ text: string; about: string; view: EntryView | LengthView }>()
  /** The room as it was when a number was to be kept: before the answer nothing moves under the hand. */
  #before = $state.raw<RoomView>()
  readonly #attempt = new Attempt()
  readonly #asking = new Once<EntryView | LengthView>()
  #undoable = 1
  #seq = 0

  constructor(
    private readonly asked: Asked<'room'>,
    private readonly surveyId: () => string | undefined,
    units: Shown,
  ) {
    this.entry = new Entry(units, this.view.room.units)
    const { last } = this
    if (last?.reading) this.entry.hold(last.reading.value)
    else if (this.setup) this.entry.hold(this.setup.setup.opening.mm)
  }

  get view(): RoomView {
    return this.#before ?? (this.asked.value as RoomView)
  }

  survey = $derived.by(() => surveyOf(this.view, this.surveyId()))
  /** The last set-up of this survey, open or closed. */
  setup = $derived.by(() => this.view.setups.filter(({ setup }) => setup.survey === this.survey?.id).at(-1))
  current = $derived.by(() => this.#pointAt(this.#cursor) ?? nextUnread(this.survey?.points ?? []))

  get stage(): Stage {
    if (!this.survey?.points.length) return 'no-points'
    if (this.setup && !this.setup.setup.closing) return this.#finishing || !this.current ? 'closing' : 'reading'
    if (this.setup && this.#justClosed) return 'closed'
    if (this.standing) return 'opening'
    return this.setup && this.survey.read === this.survey.points.length ? 'closed' : 'set-up'
  }

  /** What the number means: chosen with the set-up, else as it was last read, else down from the line. */
  get sense(): Sense {
    return this.standing?.sense ?? this.last?.reading?.sense ?? (this.survey?.surface === 'fall' ? 'up' : 'down')
  }

  /** What the core makes of the text as it stands; absent while that is under way. */
  get understood(): EntryView | LengthView | undefined {
    const heard = this.#understood
    return heard && heard.text === this.entry.text && heard.about === this.#about ? heard.view : undefined
  }

  /** What the number would be a reading of. */
  get #about(): string {
    return this.stage === 'reading' ? `${this.setup?.setup.id} ${this.current?.id}` : this.stage
  }

  /** What a reading would be for, as the instruments are told it; none while none can be taken. */
  get place(): string | undefined {
    const takes = this.stage === 'reading' || this.stage === 'opening' || this.stage === 'closing'
    return takes ? `${this.view.room.id} ${this.#about}` : undefined
  }

  /** What an instrument is to read there. */
  readonly wants = 'length'

  /** Takes what an instrument read as if it were typed, and goes on as *next* does. Half a number is not overwritten. */
  async receive(reading: DeviceReading): Promise<void> {
    if (this.busy) return
    if (this.entry.ready && !this.entry.received) {
      this.said = words().devices.boxTaken
      return
    }
    this.entry.receive(reading)
    await this.next()
  }

  /** The edge that is read now, where both are. */
  get edge(): 'left' | 'right' | undefined {
    if (!this.bothEdges || !this.current?.joist || this.stage !== 'reading') return undefined
    if (this.#edgeAgain) return this.#edgeAgain
    const read = this.current.edges.map(({ edge }) => edge)
    return read.includes('left') && !read.includes('right') ? 'right' : 'left'
  }

  /** The reading that a new one takes the place of: that of the same edge, else one of the whole top. None where they
   * count together. */
  get #replaced(): string | undefined {
    const { current, edge } = this
    if (this.together) return undefined
    if (!current || !edge) return current?.reading?.id
    const same = current.edges.find((read) => read.edge === edge)?.reading
    return same ?? (current.edges.length === 0 ? current.reading?.id : undefined)
  }

  get judged(): EntryView | undefined {
    const view = this.understood
    return view && 'differences' in view ? view : undefined
  }

  get question() {
    return this.stage === 'reading' || this.stage === 'closing' ? (this.judged?.question ?? undefined) : undefined
  }

  /** What the neighbours lead one to expect, where the number is so far from it that it is asked about. Half a number
   * always is, so it is asked only once it was to be kept. */
  get far() {
    if (this.stage !== 'reading' || this.#doubted !== `${this.#about} ${this.entry.text}`) return undefined
    return this.judged?.far ?? undefined
  }

  /** Whether the two full-width keys stand in the place of *next*. */
  get asks(): boolean {
    return this.question !== undefined || this.far !== undefined
  }

  /** Asks the core what the text means. A refusal is shown; the text stays. */
  async understand(): Promise<EntryView | LengthView | undefined> {
    const { text } = this.entry
    this.refused = undefined
    if (!text || this.understood) return this.understood
    try {
      const about = this.#about
      const view = await this.#asking.of(`${about} ${text}`, () => this.#ask(text))
      if (text === this.entry.text) this.#understood = { text, about, view }
      return this.understood
    } catch (thrown) {
      if (text === this.entry.text) this.refused = refusedBy(thrown)
      return undefined
    }
  }

  #ask(text: string): Promise<EntryView | LengthView> {
    const room = this.view.room.id
    const { current, setup } = this
    if (this.stage === 'reading' && current && setup)
      return bridge.ask('entry', { room, setup: setup.setup.id, point: current.id, text })
    if (this.stage === 'closing' && setup) return bridge.ask('entry', { room, setup: setup.setup.id, text })
    return bridge.ask('length', { text, units: this.view.room.units, room })
  }

  /** Keeps what was entered and goes on: to the next point, or to the benchmark when all are read. */
  async next(): Promise<void> {
    if (this.entry.waits(() => void this.next())) return
    await this.#keeping(async () => {
      const view = await this.understand()
      if (!view) return
      if (this.stage === 'opening') await this.#open(view)
      else if (this.stage === 'closing') {
        if (!this.question) await this.#close(view)
      } else if (this.judged?.far && !this.question && !this.far) this.#doubted = `${this.#about} ${this.entry.text}`
      else if (!this.asks && this.judged) await this.#keep(this.judged)
    })
  }

  /** Keeps the number as typed although it was asked about. */
  async keepAsTyped(): Promise<void> {
    const { judged } = this
    if (judged) await this.#keeping(() => (this.stage === 'closing' ? this.#close(judged) : this.#keep(judged)))
  }

  /** Keeps what was typed and, over it, what it was. */
  async itWas(): Promise<void> {
    const { question, judged } = this
    if (!question || !judged) return
    await this.#keeping(() => (this.stage === 'closing' ? this.#close(judged, question) : this.#keep(judged, question)))
  }

  /** Keeps the number as typed and stays: the next one takes its place, and both are kept. */
  async wasAnother(): Promise<void> {
    const { current, edge } = this
    await this.#keeping(async () => {
      if (!this.judged || !current) return
      await this.#keep(this.judged)
      this.#stay(current.id)
      this.#edgeAgain = edge
    })
  }

  async #keeping(act: () => Promise<unknown>): Promise<void> {
    if (this.busy || !this.entry.ready) return
    this.busy = true
    this.#before = this.view
    this.entry.close()
    try {
      await act()
    } catch (thrown) {
      this.refused = refusedBy(thrown)
    } finally {
      this.#before = undefined
      this.busy = false
      this.entry.open(!this.entry.ready)
    }
  }

  async #keep(judged: EntryView, instead?: { text: string; value: number }): Promise<void> {
    const { current, setup } = this
    if (!current || !setup) return
    const pending = this.#attempt.of(`${setup.setup.id} ${current.id} ${this.entry.text}`)
    const given = { setup: setup.setup.id, point: current.id, sense: this.sense, sd_mm: judged.sd_mm }
    const { received } = this.entry
    const source = this.entry.typed === undefined || received ? 'typed' : 'keyboard'
    const typed = { ...given, source, entered: this.entry.text, value: judged.value, ...this.entry.sent }
    if (received) pending.thing = received.id
    const [before, edge] = [this.#replaced, this.edge]
    await this.#write('reading-add', { ...typed, reading: pending.thing, edge, supersedes: before }, pending.id)
    if (instead) {
      const over = { reading: pending.fix, edge, supersedes: pending.thing }
      const fixed = { ...given, ...over, source, entered: instead.text, value: instead.value }
      await this.#write('reading-add', fixed, pending.fixId)
    }
    const kept = instead ?? { text: this.entry.text, value: judged.value }
    this.said = words().readings.kept(nameOf(current, this.entry.units), kept.text)
    await this.#goOn(kept.value, current.id, instead ? 2 : 1)
    if (edge === 'left') this.#stay(current.id)
  }

  async #open(view: LengthView | EntryView): Promise<void> {
    if (!this.standing || !this.survey) return
    const pending = this.#attempt.of(`open ${this.entry.text}`)
    const { instrument, sd_mm, benchmark } = this.standing
    const opening = this.#entered(view, pending.at)
    const setup = { setup: pending.thing, survey: this.survey.id, instrument, sd_mm, benchmark, opening }
    await this.#write('setup-open', setup, pending.id)
    this.said = words().readings.kept(called(benchmark.name), this.entry.text)
    await this.#goOn(opening.mm)
  }

  /** Closes the set-up on its mark; with a slip taken back both numbers are kept, the second in force. */
  async #close(view: LengthView | EntryView, instead?: { text: string; value: number }): Promise<void> {
    if (!this.setup) return
    const { setup } = this.setup
    const pending = this.#attempt.of(`close ${setup.id} ${this.entry.text}`)
    await this.#write('setup-close', { setup: setup.id, closing: this.#entered(view, pending.at) }, pending.id)
    if (instead) {
      const closing = { text: instead.text, mm: instead.value, at: pending.at }
      await this.#write('setup-close', { setup: setup.id, closing }, pending.fixId)
    }
    this.standing = undefined
    this.#justClosed = true
    this.bumped = false
    this.said = words().readings.closedOn(called(setup.benchmark.name))
    await this.#goOn(instead?.value ?? ('mm' in view ? view.mm : view.value), undefined, instead ? 2 : 1)
    this.#finishing = false
  }

  async #write<K extends keyof Commands>(command: K, payload: Commands[K], id: string) {
    this.#seq = (await write(this.view.room.id, command, payload, id)).seq
  }

  #entered(view: LengthView | EntryView, at: string) {
    return { text: this.entry.text, mm: 'mm' in view ? view.mm : view.value, at }
  }

  async #goOn(mm: number, from?: string, undoable = 1): Promise<void> {
    this.#attempt.done()
    this.#edgeAgain = undefined
    this.together = false
    this.#undoable = undoable
    await this.asked.after(this.view.room.id, this.#seq)
    this.#before = undefined
    this.entry.hold(mm)
    const next = nextUnread(this.survey?.points ?? [], from, from)
    this.#cursor = next?.id
    this.#finishing = next === undefined
  }

  /** The other edge of the same point is next. */
  #stay(point: string): void {
    this.#cursor = point
    this.#finishing = false
  }

  skip(): void {
    if (this.entry.waits(() => this.skip())) return
    const points = this.survey?.points ?? []
    this.goTo(nextUnread(points, this.current?.id, this.current?.id)?.id ?? this.current?.id)
  }

  goTo(point: string | undefined): void {
    if (this.entry.waits(() => this.goTo(point))) return
    this.#cursor = point
    this.#edgeAgain = undefined
    this.#finishing = false
    this.bumped = false
    this.together = false
    this.refused = undefined
    this.entry.clear()
  }

  /** Leaves the points and asks for the benchmark; `bumped` where the instrument may have moved. */
  finish(bumped = false): void {
    if (this.entry.waits(() => this.finish(bumped))) return
    this.#finishing = true
    this.bumped = bumped
    this.entry.clear()
  }

  /** Stands the level again, once it was seen how the last set-up closed. */
  standAgain(): void {
    this.#justClosed = false
    this.standing = undefined
  }

  /** Opens the set-up again: the mark read the same, so nothing had moved. */
  async goOn(): Promise<void> {
    const setup = this.setup?.setup.id
    if (setup) await this.#keepingAlways(() => this.#write('setup-close', { setup, closing: null }, newId()))
    this.#justClosed = false
  }

  /** The readings of the last set-up that are in force. */
  get ofSetup(): string[] {
    const id = this.setup?.setup.id
    return (this.survey?.points ?? []).flatMap(({ reading }) => (reading?.setup === id ? [reading!.id] : []))
  }

  /** Sets the readings of the last set-up aside: each is asked for again. */
  async setAside(): Promise<void> {
    await this.#keepingAlways(() =>
      this.#write('readings-withdraw', { readings: this.ofSetup, withdrawn: true }, newId()),
    )
    this.standAgain()
  }

  async #keepingAlways(act: () => Promise<unknown>): Promise<void> {
    this.refused = undefined
    try {
      await act()
      await this.asked.after(this.view.room.id, this.#seq)
    } catch (thrown) {
      this.refused = refusedBy(thrown)
    }
  }

  /** Takes back the last change, with one tap: a corrected slip goes as a whole. */
  async takeBack(): Promise<void> {
    if (this.busy) return
    const subject = this.view.undo?.subject
    this.busy = true
    await this.#keepingAlways(async () => {
      for (; this.#undoable > 0; this.#undoable -= 1) this.#seq = (await undo(this.view.room.id)).seq
      this.#undoable = 1
    })
    this.busy = false
    if (this.refused) return
    this.said = words().readings.takenBack
    if (subject && this.#pointAt(subject)) this.goTo(subject)
  }

  /** The reading that was kept last. */
  get last(): PointView | undefined {
    return lastRead(this.survey?.points ?? [])
  }

  #pointAt(id: string | undefined): PointView | undefined {
    return this.survey?.points.find((point) => point.id === id)
  }
}
