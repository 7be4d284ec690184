import { listed } from './listed'
import { Offered } from './offered.svelte'
import type { Walk } from './walk.svelte'

/** The most that is taken from one pasted list. */
const MOST_LISTED = 500

/** What fills the box beside fingers: instruments in use, and a list that was pasted. It is entered as if it were typed. */
export class Hand extends Offered {
  /** What is left of a pasted list. */
  list = $state.raw<string[]>([])

  constructor(private readonly walk: Walk) {
    super(walk)
    $effect(() => {
      if (this.list.length > 0 && walk.stage === 'reading' && !walk.busy && !walk.entry.ready) void this.#enter()
    })
  }

  /** One number goes into the box, several go one after the other to the points in their order. */
  paste(event: ClipboardEvent): void {
    if (event.target instanceof Element && event.target.closest('input, textarea, dialog')) return
    const [first, ...rest] = listed(event.clipboardData?.getData('text') ?? '')
    if (first === undefined) return
    event.preventDefault()
    if (rest.length === 0) this.walk.entry.paste(first)
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
}
