import { tick } from 'svelte'

/** The fields of the screen whose text is no number yet: what stood in them before is not kept in their place. */
class Typed {
  /** The field that kept the last key from doing anything, by its label. */
  stopped = $state<string>()
  #reading = new Set<Promise<unknown>>()
  #waiting = false

  /** A text on its way through the core: keys wait for it. */
  reading(asked: Promise<unknown>): void {
    this.#reading.add(asked)
    const done = () => this.#reading.delete(asked)
    void asked.then(done, done)
  }

  /**
   * Whether everything typed was understood; else the first field that was not is shown and named. A second tap
   * before the first was answered does nothing.
   */
  async ready(): Promise<boolean> {
    if (this.#waiting) return false
    this.#waiting = true
    await Promise.allSettled(this.#reading)
    await tick()
    this.#waiting = false
    const field = document.querySelector<HTMLInputElement>('main [data-unread]')
    this.stopped = field?.labels?.[0]?.textContent.trim()
    const folded = field?.closest('details')
    if (folded) folded.open = true
    field?.focus()
    field?.scrollIntoView({ block: 'center' })
    return !field
  }

  /** A field was put right, or its screen was left. */
  clear(): void {
    this.stopped = undefined
  }
}

export const typed = new Typed()
