import { bridge } from '../bridge/bridge'
import type { DeviceReading } from '../bridge/generated/DeviceReading'
import type { DeviceView } from '../bridge/generated/DeviceView'
import type { Requests } from '../bridge/generated/Requests'
import { Asked } from './asked.svelte'
import { accepted } from './accepted'
import { listed } from './listed'
import type { Walk } from './walk.svelte'

/** The most that is taken from one pasted list. */
const MOST_LISTED = 500

/**
 * What fills the box beside fingers: instruments in use, and a list that was pasted. The instruments are told which
 * point is open, and what they read for it is entered as if it were typed. A reading is dealt with once.
 */
export class Hand {
  readonly asked = new Asked('devices', () => ({}))
  /** What is left of a pasted list. */
  list = $state.raw<string[]>([])
  #last: string | undefined
  #taking = false
  #orders: Promise<void> = Promise.resolve()

  constructor(private readonly walk: Walk) {
    $effect(() => void this.#open(walk.place))
    $effect(() => () => void this.#open(undefined))
    $effect(() => this.#look())
    $effect(() => {
      if (this.list.length > 0 && walk.stage === 'reading' && !walk.busy && !walk.entry.ready) void this.#enter()
    })
  }

  /** The instruments in use that give a height. */
  get inUse(): DeviceView[] {
    return this.asked.value?.devices.filter((device) => device.in_use) ?? []
  }

  /** Presses what stands for the instrument's button, or asks it to measure. */
  async measure(device: DeviceView): Promise<void> {
    if (device.practice) await this.#tell('device-practice', { device: device.device, deed: 'press' })
    else await this.#tell('device-measure', { device: device.device })
  }

  /** One number goes into the box, several go one after the other to the points in their order. */
  paste(event: ClipboardEvent): void {
    if (event.target instanceof Element && event.target.closest('input, textarea, dialog')) return
    const [first, ...rest] = listed(event.clipboardData?.getData('text') ?? '')
    if (first === undefined) return
    event.preventDefault()
    if (rest.length === 0) this.walk.entry.typed = first.slice(0, 24)
    else if (this.walk.stage === 'reading') this.list = [first, ...rest].slice(0, MOST_LISTED)
  }

  /** The next of the list, entered and kept unless it is asked about or not understood. */
  async #enter(): Promise<void> {
    const [first, ...rest] = this.list
    if (first === undefined || this.walk.refused) return
    this.list = rest
    this.walk.entry.typed = first
    await this.walk.next()
  }

  /** Takes what waits for the open point, unless something is being kept just now. */
  #look(): void {
    const reading = this.asked.value?.waiting.find(({ id, place }) => place === this.walk.place && id !== this.#last)
    if (reading && !this.walk.busy && !this.#taking) void this.#take(reading)
  }

  async #take(reading: DeviceReading): Promise<void> {
    this.#taking = true
    this.#last = reading.id
    const before = this.walk.place
    await this.walk.receive(reading)
    if (this.walk.place !== before) accepted()
    await this.#tell('device-taken', { id: reading.id })
    this.#taking = false
    this.#look()
  }

  /** What was read for the point before is dealt with first, so that it does not count as left over. */
  async #open(place: string | undefined): Promise<void> {
    if (this.#last) void this.#tell('device-taken', { id: this.#last })
    await this.#tell('device-place', place === undefined ? {} : { place })
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
