import { undo, write } from '../bridge/write'
import type { Commands } from '../bridge/generated/Commands'
import { leaveAt, leftAt } from './aside'
import { Doing } from './doing.svelte'
import { typed } from './typed.svelte'

/** The write of what is tried out, and the command it is: whatever screen writes by it tries out the same. */
type Writing<T> = ((room: string, value: T) => Promise<unknown>) & { command: string }

/**
 * Something that is tried out on a screen: nothing of it is kept before a key says so, and nothing typed is lost, not
 * even when the screen is left in between.
 */
export class Trying<T> {
  value = $state.raw<T>()
  /** Whether it was found as it had been left. */
  isLeft = $state(false)
  readonly doing = new Doing()
  /** What is on its way: pressed twice, it is kept once. */
  #sent: T | undefined

  constructor(
    private readonly room: () => string,
    private readonly write: Writing<T>,
    private readonly after: () => Promise<void>,
  ) {
    this.value = leftAt(this.#place)
    this.isLeft = this.value !== undefined
  }

  get #place(): string {
    return `${this.room()} ${this.write.command}`
  }

  #show(value: T | undefined): void {
    this.value = value
    this.isLeft = false
    leaveAt(this.#place, value)
  }

  /** Another try: what was refused of the one before is said no more. */
  propose = (value: T | undefined): void => {
    this.doing.refused = undefined
    this.#show(value)
  }

  drop = (): void => this.propose(undefined)

  /** Keeps what is tried out, once every field that was typed in is understood. */
  keep = async (): Promise<void> => {
    if (await typed.ready()) await this.#send()
  }

  #send = async (): Promise<void> => {
    const value = this.value
    if (value === undefined || value === this.#sent) return
    this.#sent = value
    // What is tried out stands until what was kept has come back; what was typed meanwhile stays.
    const isKept = await this.doing.run(() => this.write(this.room(), value))
    if (isKept) await this.after()
    if (isKept && this.value === value) this.#show(undefined)
    if (this.#sent === value) this.#sent = undefined
  }

  /** Keeps this at once. */
  set = async (value: T): Promise<void> => {
    this.propose(value)
    await this.#send()
  }

  back = async (): Promise<void> => {
    if (await this.doing.run(() => undo(this.room()))) await this.after()
    this.#show(undefined)
  }
}

/** The write of a command whose payload is made of what is tried out. */
export function by<K extends keyof Commands, T>(command: K, payload: (value: T) => Commands[K]) {
  return Object.assign((room: string, value: T) => write(room, command, payload(value)), { command })
}
