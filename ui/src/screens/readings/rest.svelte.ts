/** A second touch this soon after a key is a bounce of the glove, ms. */
const BOUNCE = 150
/** A question that takes the place of a key is looked at this long before it is answered, ms. */
export const LOOK = 500

/** The moment after a key in which touches do not count. */
export class Rest {
  over = $state(true)
  #until = 0

  constructor(private readonly bounce = BOUNCE) {}

  /** Whether the press counts. Presses from a keyboard always do. */
  take(event: MouseEvent): boolean {
    if (event.detail === 0) return true
    if (event.timeStamp < this.#until) return false
    this.start(event.timeStamp)
    return true
  }

  /** Nothing counts for a moment from now. */
  start(now = performance.now(), moment = this.bounce): void {
    this.#until = Math.max(this.#until, now + moment)
    this.over = false
    setTimeout(() => (this.over = performance.now() >= this.#until), this.#until - performance.now() + 1)
  }
}
