import { leaveAt, leftAt } from './aside'

/**
 * What stands in a form until it is kept: there again when one comes back. It is made while its component is;
 * `secret` names what of it stays in memory.
 */
export class Held<T extends object> {
  readonly now: T
  /** Whether it was found as it had been left. */
  isLeft = $state(false)
  readonly #place: string
  /** What is not worth holding: what the form begins with, or what was just kept. */
  #plain: string | undefined

  constructor(place: string, first: T, secret: readonly (keyof T)[] = []) {
    const found = leftAt<Partial<T>>(place)
    const now = $state({ ...first, ...found })
    this.#place = place
    this.now = now
    this.isLeft = found !== undefined
    this.#plain = found ? undefined : JSON.stringify(first)
    $effect(() => {
      const held = $state.snapshot(now) as T
      if (JSON.stringify(held) !== this.#plain) leaveAt(place, held, without(held, secret))
    })
  }

  /** Fills in what nobody typed: that alone is not worth holding. */
  fill(part: Partial<T>): void {
    const isPlain = JSON.stringify(this.now) === this.#plain
    Object.assign(this.now, part)
    if (isPlain) this.#plain = JSON.stringify(this.now)
  }

  /** Kept, or left on purpose: nothing of it is there the next time. */
  forget(): void {
    this.#plain = JSON.stringify(this.now)
    this.isLeft = false
    leaveAt(this.#place, undefined)
  }
}

/** What of it may be stored. */
function without<T extends object>(held: T, secret: readonly (keyof T)[]): object {
  return Object.fromEntries(Object.entries(held).filter(([key]) => !secret.includes(key as keyof T)))
}
