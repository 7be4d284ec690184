import { bridge, type Answered, type Asked as AskedBody } from '../bridge/bridge'
import type { Changes } from '../bridge/generated/Changes'
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
  /** The last change of its room after which it was asked. */
  #after = { room: '', seq: 0 }
  #latest: Promise<void> = Promise.resolve()

  constructor(
    private readonly name: K,
    private readonly body: () => AskedBody<K>,
  ) {
    $effect(() => {
      this.again()
    })
    $effect(() => bridge.onChange((changes) => this.#hear(changes)))
  }

  /** Asks anew. Only the latest question's answer is taken; all who asked wait for that one. */
  again = (): Promise<void> => {
    this.#latest = this.#ask(++this.#turn)
    return this.#latest
  }

  /** Asks once after a change, whether the one who made it says so or its notice. */
  async after(room: string, seq: number): Promise<void> {
    if (!this.#isNews(room, seq)) await this.#latest
    // Without a number nothing is known of it, and what was refused is no answer.
    else return this.again()
    if (this.refused) await this.again()
  }

  /** An answer that came with something else, as of that change; one that is older than what came is left out. */
  given(value: Answered<K>, seq: number): void {
    if (seq < this.#after.seq) return
    this.#after = { room: this.name, seq }
    this.#latest = Promise.resolve()
    this.#take(++this.#turn, value)
  }

  #hear({ room, seq, devices }: Changes): void {
    if (devices && room === this.name) return this.given(devices as Answered<K>, seq)
    if (this.#concerns(room) && this.#isNews(room, seq)) void this.again()
  }

  /** Whether it has not been asked after this change. Where any room may have changed, none is known any more. */
  #isNews(room: string, seq: number): boolean {
    const asks = (this.body() as { room?: string }).room
    if (room === '' || seq === 0 || asks !== room) {
      if (room === '') this.#after = { room: '', seq: 0 }
      return true
    }
    if (this.#after.room === room && this.#after.seq >= seq) return false
    this.#after = { room, seq }
    return true
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
