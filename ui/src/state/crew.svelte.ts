import { bridge, crewBridge } from '../bridge/bridge'
import type { CrewHere } from '../bridge/generated/CrewHere'
import type { Waits } from '../bridge/waiting'
import { hashOf } from '../router'
import { place } from './place.svelte'

/** How often what waits is tried again while nothing else reaches the home device, in milliseconds. */
const AGAIN = 3000
/** How often a screen that is looked at makes sure of the link, in milliseconds: a lost one says nothing by itself. */
const BEAT = 5000

/** This device among the crew: whether the home device answers, what waits for it, and what is looked at. */
class CrewState {
  /** Whether this page is on a device of the crew, and not at home. */
  readonly away = crewBridge !== undefined
  linked = $state(true)
  /** Whether the rooms stand open to others. */
  isOpen = $state(false)
  waits = $state.raw<Waits[]>([])
  /** The point that is open on the readings. */
  point = $state<string>()
  /** When what is on this screen was seen, where it is shown again without a link. */
  asOf = $state.raw<{ hash: string; at: number }>()
  #told = ''

  constructor() {
    if (!crewBridge) return
    const { waiting } = crewBridge
    const look = () => (this.waits = waiting.all())
    look()
    waiting.onChange(look)
    addEventListener('storage', look)
    crewBridge.onRecalled = (at) => (this.asOf = { hash: hashOf(place.route), at })
    setInterval(() => document.visibilityState === 'visible' && this.beat(), BEAT)
    crewBridge.onLink((there) => {
      this.linked = there
      if (there) this.asOf = undefined
      if (there) void crewBridge?.send()
    })
    addEventListener('online', () => void crewBridge?.send())
    setInterval(() => this.open > 0 && void crewBridge?.send(), AGAIN)
    void crewBridge.send()
  }

  /** How many changes are yet to be sent. */
  get open(): number {
    return this.waits.filter(({ refused }) => refused === undefined).length
  }

  /** Those that the home device did not take. */
  get refused(): Waits[] {
    return this.waits.filter(({ refused }) => refused !== undefined)
  }

  /** Sends those that were refused once more. */
  again(): void {
    this.refused.forEach(({ refused: _, ...one }) => crewBridge?.waiting.keep(one))
    void crewBridge?.send()
  }

  /** What is looked at here. */
  get here(): CrewHere {
    const { route } = place
    if (!('room' in route)) return { page: route.page }
    return { page: route.page, room: route.room, ...(this.point && { point: this.point }) }
  }

  /** Says again what is looked at; whether that arrives shows whether there is a link. */
  beat(): void {
    if (place.route.page !== 'join') bridge.ask('crew-here', this.here).catch(() => undefined)
  }

  /** Says what is looked at, where that is news; whoever is not reached learns it next time. */
  tell(here: CrewHere): void {
    const said = JSON.stringify(here)
    if (said === this.#told) return
    this.#told = said
    bridge.ask('crew-here', here).catch(() => (this.#told = ''))
  }
}

export const crew = new CrewState()
