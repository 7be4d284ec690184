import type { DeviceReading } from '../bridge/generated/DeviceReading'
import type { Units } from '../bridge/generated/Units'
import { UNREAD } from '../bridge/unread'
import { mixed, reduced, unitsOf, type Shown } from '../units'

export type Feel = '' | 'strong' | 'shy'

/**
 * The number being entered, as keys and typing build it up. It makes text; the core makes it a length.
 * In inch rooms the whole inch is held from the last reading, so that a sixteenth is enough.
 */
export class Entry {
  minus = $state(false)
  /** The whole number's digits; held while untouched. */
  digits = $state('')
  decimals = $state<string>()
  sixteenth = $state<number>()
  thirtySecond = $state(false)
  feel = $state<Feel>('')
  /** What was typed on a keyboard, as it stands. */
  typed = $state<string>()
  touched = $state(false)
  #onItsWay = false
  #later: (() => void)[] = []
  #received = $state.raw<DeviceReading>()

  /** `native` are the units of the room: a number in others carries its unit. */
  constructor(
    readonly units: Shown,
    private readonly native: Units = unitsOf(units),
  ) {}

  /** The number is on its way: what is struck from now on belongs to the next one. */
  close(): void {
    this.#onItsWay = true
  }

  /** Kept: the keys that waited are struck in their order. Not kept, the number stays as it is and they are dropped. */
  open(kept: boolean): void {
    const later = kept ? this.#later : []
    this.#later = []
    this.#onItsWay = false
    later.forEach((key) => key())
  }

  /** Whether a key waits until the number before is kept; it is struck then. */
  waits(key: () => void): boolean {
    if (this.#onItsWay) this.#later.push(key)
    return this.#onItsWay
  }

  /** What is sent to the core; empty while nothing was entered. */
  get text(): string {
    const unit = unitsOf(this.units) === this.native ? '' : ` ${unitsOf(this.units)}`
    if (this.typed !== undefined) return this.typed.trim() + (/[a-z'"]/i.test(this.typed) ? '' : unit)
    if (!this.ready) return ''
    const feel = this.feel ? ` ${this.feel}` : ''
    return `${this.minus ? '-' : ''}${this.#figures()}${unit}${feel}`
  }

  /** What an instrument sent, while the number is still that. */
  get received(): DeviceReading | undefined {
    return this.#received?.text === this.typed ? this.#received : undefined
  }

  /** What is kept of a reading that an instrument sent; nothing of one that fingers made. */
  get sent() {
    if (!this.received) return {}
    const { sd_mm, at, from } = this.received
    return { source: `device:${from.device}`, sd_mm, at, from }
  }

  /** Puts what an instrument sent into the box. */
  receive(reading: DeviceReading): void {
    this.#received = reading
    this.typed = reading.text
  }

  /** Whether there is a number to keep. */
  get ready(): boolean {
    if (this.typed !== undefined) return this.typed.trim() !== ''
    return this.sixteenth !== undefined || this.thirtySecond || (this.touched && this.digits !== '')
  }

  /** The fraction over its denominator; absent where none was chosen. */
  get fraction(): { over: number; under: number } | undefined {
    if (this.sixteenth === undefined && !this.thirtySecond) return undefined
    return reduced((this.sixteenth ?? 0) * 2 + (this.thirtySecond ? 1 : 0), 32)
  }

  #figures(): string {
    if (this.decimals !== undefined) return `${this.digits || '0'}.${this.decimals || '0'}`
    const { over = 0, under = 1 } = this.fraction ?? {}
    if (over === 0) return this.digits || '0'
    return `${Number(this.digits) ? `${this.digits}-` : ''}${over}/${under}`
  }

  /** The whole inch below (-1) or above (+1) the one held, as it is written. */
  neighbour(step: -1 | 1): string {
    const { minus, digits } = this.#stepped(step)
    return `${minus ? '\u2212' : ''}${digits}`
  }

  step(step: -1 | 1): void {
    if (this.waits(() => this.step(step))) return
    this.typed = undefined
    Object.assign(this, this.#stepped(step))
  }

  #stepped(step: -1 | 1): { minus: boolean; digits: string } {
    const whole = Number(this.digits)
    const away = this.minus ? -step : step
    if (whole === 0 && away < 0) return { minus: !this.minus, digits: '0' }
    return { minus: this.minus, digits: `${whole + away}` }
  }

  chooseSixteenth(sixteenth: number): void {
    if (this.waits(() => this.chooseSixteenth(sixteenth))) return
    this.typed = undefined
    this.decimals = undefined
    this.thirtySecond = false
    this.sixteenth = sixteenth
  }

  addThirtySecond(): void {
    if (this.waits(() => this.addThirtySecond())) return
    this.typed = undefined
    this.decimals = undefined
    this.thirtySecond = !this.thirtySecond
  }

  setFeel(feel: Feel): void {
    if (this.waits(() => this.setFeel(feel))) return
    this.feel = this.feel === feel ? '' : feel
  }

  /** A digit of the whole number, or behind the decimal point once there is one. The first replaces what was held. */
  digit(digit: string): void {
    if (this.waits(() => this.digit(digit))) return
    if (this.typed !== undefined) return this.type(digit)
    if (this.decimals !== undefined) this.decimals = (this.decimals + digit).slice(0, 3)
    else this.digits = this.touched ? (this.digits + digit).replace(/^0+(?=\d)/, '').slice(0, 5) : digit
    this.touched = true
  }

  point(): void {
    if (this.waits(() => this.point())) return
    if (this.typed !== undefined) return this.type('.')
    if (!this.touched) this.digits = ''
    this.touched = true
    this.sixteenth = undefined
    this.thirtySecond = false
    this.decimals ??= ''
  }

  sign(): void {
    if (this.waits(() => this.sign())) return
    this.minus = !this.minus
  }

  /** A character from a keyboard. */
  type(character: string): void {
    if (this.waits(() => this.type(character))) return
    this.typed = ((this.typed ?? '') + character).slice(0, 24)
  }

  back(): void {
    if (this.waits(() => this.back())) return
    if (this.typed !== undefined) this.typed = this.typed.length > 1 ? this.typed.slice(0, -1) : undefined
    else if (this.feel) this.feel = ''
    else if (this.decimals !== undefined) this.decimals = this.decimals ? this.decimals.slice(0, -1) : undefined
    else if (this.thirtySecond) this.thirtySecond = false
    else if (this.sixteenth !== undefined) this.sixteenth = undefined
    else this.#dropDigit()
  }

  #dropDigit(): void {
    this.digits = this.digits.slice(0, -1)
    this.touched = true
    if (this.digits === '') this.minus = false
  }

  /** Empty but for the whole inch of the length just kept. */
  hold(mm: number): void {
    this.#empty()
    if (this.units !== 'in' || mm === UNREAD) return
    const { minus, whole } = mixed(mm, 32)
    this.minus = minus
    this.digits = `${whole}`
  }

  /** A text that was pasted stands in the place of what was entered. */
  paste(text: string): void {
    if (this.waits(() => this.paste(text))) return
    this.typed = text.slice(0, 24)
  }

  /** Empty, the whole inch held as it is. */
  clear(): void {
    if (!this.waits(() => this.clear())) this.#empty()
  }

  #empty(): void {
    const { digits, units } = this
    this.digits = units === 'in' ? digits : ''
    this.minus = units === 'in' && this.minus
    this.decimals = undefined
    this.sixteenth = undefined
    this.thirtySecond = false
    this.feel = ''
    this.typed = undefined
    this.touched = false
  }
}
