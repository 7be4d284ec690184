import type { Shelf } from './waiting'

const PREFIX = 'truefall-seen-'
/** So many answers are remembered; the oldest goes first. */
const MOST = 80

/** What the home device last answered, to be shown while it is away. */
export class Recalled {
  constructor(private readonly shelf: Shelf) {}

  /** A device that is full forgets rather than fails: what waits to be sent is worth more. */
  keep(name: string, body: unknown, answer: string): void {
    const key = keyOf(name, body)
    try {
      this.shelf.setItem(key, JSON.stringify({ at: Date.now(), answer }))
      this.#thin(MOST)
    } catch {
      this.#thin(MOST / 4)
    }
  }

  get(name: string, body: unknown): { at: number; answer: string } | undefined {
    try {
      return JSON.parse(this.shelf.getItem(keyOf(name, body)) ?? '')
    } catch {
      return undefined
    }
  }

  #thin(most: number): void {
    const keys = Array.from({ length: this.shelf.length }, (_, at) => this.shelf.key(at) ?? '')
    const ours = keys.filter((key) => key.startsWith(PREFIX))
    if (ours.length <= most) return
    const age = (key: string) => Number(/"at":(\d+)/.exec(this.shelf.getItem(key) ?? '')?.[1] ?? 0)
    const oldest = ours.map((key) => [age(key), key] as const).sort(([a], [b]) => a - b)
    oldest.slice(0, ours.length - most).forEach(([, key]) => this.shelf.removeItem(key))
  }
}

function keyOf(name: string, body: unknown): string {
  return `${PREFIX}${name} ${JSON.stringify(body)}`
}
