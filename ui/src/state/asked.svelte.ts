import { bridge, type Answered, type Asked as AskedBody } from '../bridge/bridge'
import type { Requests } from '../bridge/generated/Requests'
import { refusedBy, type Refused } from '../bridge/refused'

/** What is told of under a name of its own. */
const OF_NO_ROOM: string[] = ['devices', 'crew']

/**
 * The answer to one request, asked again after every change it depends on.
 * The last answer stays while a new one is under way, and when that one is refused.
 */
export class Asked<K extends keyof Requests> {
  value = $state.raw<Answered<K>>()
  refused = $state.raw<Refused>()
  waiting = $state(true)
  #turn = 0
  #latest: Promise<void> = Promise.resolve()

  constructor(
    private readonly name: K,
    private readonly body: () => AskedBody<K>,
  ) {
    $effect(() => {
      this.again()
    })
    $effect(() => bridge.onChange((changes) => this.#concerns(changes.room) && this.again()))
  }

  /** Asks anew. Only the latest question's answer is taken; all who asked wait for that one. */
  again = (): Promise<void> => {
    this.#latest = this.#ask(++this.#turn)
    return this.#latest
  }

  async #ask(turn: number): Promise<void> {
    this.waiting = true
    try {
      this.#take(turn, await bridge.ask(this.name, this.body()))
    } catch (thrown) {
      this.#take(turn, undefined, refusedBy(thrown))
    }
    if (turn !== this.#turn) await this.#latest
  }

  #take(turn: number, value?: Answered<K>, refused?: Refused) {
    if (turn !== this.#turn) return
    if (value !== undefined) this.value = value
    this.refused = refused
    this.waiting = false
  }

  #concerns(room: string): boolean {
    // The instruments and the crew change often and are no rooms.
    if (OF_NO_ROOM.includes(room) || OF_NO_ROOM.includes(this.name)) return !room || room === this.name
    const body = this.body() as { room?: string }
    return !room || body.room === undefined || body.room === room
  }
}
