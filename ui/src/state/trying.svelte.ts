import { undo, write } from '../bridge/write'
import type { Commands } from '../bridge/generated/Commands'
import { Doing } from './doing.svelte'
import { typed } from './typed.svelte'

/** Something that is tried out on a screen: nothing of it is kept before a key says so, and nothing typed is lost. */
export class Trying<T> {
  value = $state.raw<T>()
  readonly doing = new Doing()

  constructor(
    private readonly room: () => string,
    private readonly write: (room: string, value: T) => Promise<unknown>,
    private readonly after: () => Promise<void>,
  ) {}

  /** Another try: what was refused of the one before is said no more. */
  propose = (value: T | undefined): void => {
    this.doing.refused = undefined
    this.value = value
  }

  drop = (): void => this.propose(undefined)

  /** Keeps what is tried out, once every field that was typed in is understood. */
  keep = async (): Promise<void> => {
    if (await typed.ready()) await this.#send()
  }

  #send = async (): Promise<void> => {
    const value = this.value
    if (value === undefined || !(await this.doing.run(() => this.write(this.room(), value)))) return
    // What is tried out stands until what was kept has come back; what was typed meanwhile stays.
    await this.after()
    if (this.value === value) this.value = undefined
  }

  /** Keeps this at once. */
  set = async (value: T): Promise<void> => {
    this.propose(value)
    await this.#send()
  }

  back = async (): Promise<void> => {
    if (await this.doing.run(() => undo(this.room()))) await this.after()
    this.value = undefined
  }
}

/** The write of a command whose payload is made of what is tried out. */
export function by<K extends keyof Commands, T>(command: K, payload: (value: T) => Commands[K]) {
  return (room: string, value: T) => write(room, command, payload(value))
}
