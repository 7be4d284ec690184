import type { Write } from './generated/Write'

/** A change that waits on this device for the home device to take it. */
export type Waits = Write & {
  /** Its number was typed with the home device away: what it means is asked there before it is sent. */
  unread?: boolean
  /** Why the home device did not take it. It stays until somebody sends it again. */
  refused?: string
}

/** Where it is kept: what survives the browser being closed. */
export type Shelf = Pick<Storage, 'getItem' | 'setItem' | 'removeItem' | 'key' | 'length'>

const PREFIX = 'truefall-waits-'

/** The changes that wait, each under its own id, so that two windows of one device never overwrite one another. */
export class Waiting {
  readonly #listeners = new Set<() => void>()

  constructor(private readonly shelf: Shelf) {}

  /** In the order in which they were entered: the ids sort by their time. */
  all(): Waits[] {
    const keys = Array.from({ length: this.shelf.length }, (_, at) => this.shelf.key(at) ?? '')
    const ours = keys.filter((key) => key.startsWith(PREFIX)).sort()
    return ours.flatMap((key) => parsed(this.shelf.getItem(key)))
  }

  /** Those that may be sent. */
  open(): Waits[] {
    return this.all().filter(({ refused }) => refused === undefined)
  }

  /** Keeps one. It throws where the device is full: then nothing was kept, and the field stays as it is. */
  keep(one: Waits): void {
    this.shelf.setItem(PREFIX + one.id, JSON.stringify(one))
    this.#tell()
  }

  done(id: string): void {
    this.shelf.removeItem(PREFIX + id)
    this.#tell()
  }

  onChange(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  #tell(): void {
    this.#listeners.forEach((listener) => listener())
  }
}

/** What cannot be read is left where it is, and not sent. */
function parsed(text: string | null): Waits[] {
  try {
    const one: unknown = JSON.parse(text ?? '')
    return typeof one === 'object' && one !== null && 'payload' in one ? [one as Waits] : []
  } catch {
    return []
  }
}
