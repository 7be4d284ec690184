import { bridge } from '../bridge/bridge'
import type { DeviceReading } from '../bridge/generated/DeviceReading'
import type { DeviceView } from '../bridge/generated/DeviceView'
import type { Measures } from '../bridge/generated/Measures'
import type { Requests } from '../bridge/generated/Requests'
import { accepted } from './accepted'
import { Asked } from './asked.svelte'

/** A screen that takes what instruments read: what is read there now, and what becomes of a reading. */
export interface Taker {
  /** None while nothing can be taken. */
  readonly place: string | undefined
  readonly wants: Measures
  readonly busy: boolean
  receive(reading: DeviceReading): Promise<void>
}

/** What the instruments in use read for a screen. They are told which place is open; a reading is dealt with once. */
export class Offered {
  readonly asked = new Asked('devices', () => ({}))
  #last: string | undefined
  #taking = false
  #gone = false
  /** The place that the instruments were told last. */
  #told: string | undefined
  #orders: Promise<void> = Promise.resolve()

  constructor(private readonly taker: Taker) {
    $effect(() => this.#open(this.#place))
    $effect(() => () => {
      this.#gone = true
      this.#open(undefined)
    })
    $effect(() => this.#look())
  }

  /** The instruments in use. */
  get inUse(): DeviceView[] {
    return this.asked.value?.devices.filter((device) => device.in_use) ?? []
  }

  /** Presses what stands for the instrument's button, or asks it to measure. */
  measure = async (device: DeviceView): Promise<void> => {
    if (device.practice) await this.#tell('device-practice', { device: device.device, deed: 'press' })
    else await this.#tell('device-measure', { device: device.device })
  }

  /** Takes what waits for the open place, unless something is being kept just now. */
  #look(): void {
    const { taker } = this
    const reading = this.asked.value?.waiting.find(({ id, place }) => place === taker.place && id !== this.#last)
    if (reading && !taker.busy && !this.#taking) void this.#take(reading)
  }

  /** Where a reading goes; with no instrument in use nobody need know. */
  get #place(): string | undefined {
    return this.#gone || this.inUse.length === 0 ? undefined : this.taker.place
  }

  async #take(reading: DeviceReading): Promise<void> {
    this.#taking = true
    this.#last = reading.id
    const before = this.taker.place
    await this.taker.receive(reading)
    if (this.taker.place !== before) accepted()
    await this.#say(this.#place)
    this.#taking = false
    this.#open(this.#place)
    this.#look()
  }

  /** Where the next reading goes, if that is news; while one is being taken, it is told with that. */
  #open(place: string | undefined): void {
    if (!this.#taking && place !== this.#told) void this.#say(place)
  }

  /** One order says what was dealt with and where the next one goes. */
  #say(place: string | undefined): Promise<void> {
    this.#told = place
    const open = place === undefined ? {} : { place, wants: this.taker.wants }
    return this.#tell('device-place', { ...open, ...(this.#last && { taken: this.#last }) })
  }

  /** An order whose outcome shows in the view, after those given before: two on their way may change places. */
  #tell<K extends 'device-place' | 'device-practice' | 'device-measure'>(
    order: K,
    body: Requests[K][0],
  ): Promise<void> {
    this.#orders = this.#orders.then(async () => {
      try {
        const view = await bridge.ask(order, body)
        this.asked.given(view, view.seq)
      } catch {
        // A failing link shows in the view; what it was told is not known.
        if (order === 'device-place') this.#told = undefined
        await this.asked.again()
      }
    })
    return this.#orders
  }
}
