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
  #orders: Promise<void> = Promise.resolve()

  constructor(private readonly taker: Taker) {
    $effect(() => void this.#open(taker.place))
    $effect(() => () => void this.#open(undefined))
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

  async #take(reading: DeviceReading): Promise<void> {
    this.#taking = true
    this.#last = reading.id
    const before = this.taker.place
    await this.taker.receive(reading)
    if (this.taker.place !== before) accepted()
    await this.#tell('device-taken', { id: reading.id })
    this.#taking = false
    this.#look()
  }

  /** What was read for the place before is dealt with first, so that it does not count as left over. */
  async #open(place: string | undefined): Promise<void> {
    if (this.#last) void this.#tell('device-taken', { id: this.#last })
    await this.#tell('device-place', place === undefined ? {} : { place, wants: this.taker.wants })
  }

  /** An order whose outcome shows in the view, after those given before: two on their way may change places. */
  #tell<K extends 'device-place' | 'device-taken' | 'device-practice' | 'device-measure'>(
    order: K,
    body: Requests[K][0],
  ): Promise<void> {
    this.#orders = this.#orders.then(async () => {
      try {
        await bridge.ask(order, body)
      } catch {
        // A failing link shows in the view.
        await this.asked.again()
      }
    })
    return this.#orders
  }
}
