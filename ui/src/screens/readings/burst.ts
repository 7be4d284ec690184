/** Keys closer together than this, ms, were not struck by fingers. */
const GAP = 50
/** So many of them are an instrument that acts as a keyboard. */
const KEYS = 4
/** A burst without Enter or Tab ends after this, ms. */
const PAUSE = 300

type Field = HTMLInputElement | HTMLTextAreaElement

/**
 * An instrument that acts as a keyboard: a burst of keys faster than fingers. It ends with Enter, with Tab, or with a
 * pause; in a field that was meant for something else it leaves what stood there.
 */
export class Burst {
  #last = -Infinity
  #length = 0
  #field: { field: Field; value: string } | undefined
  #pause: ReturnType<typeof setTimeout> | undefined

  key(event: KeyboardEvent, next: () => void): void {
    clearTimeout(this.#pause)
    const ends = event.key === 'Enter' || event.key === 'Tab'
    if (event.key.length !== 1 && !ends) return
    if (event.timeStamp - this.#last > GAP) this.#begin(event.target)
    this.#last = event.timeStamp
    if (!ends) this.#length += 1
    if (this.#length < KEYS) return
    if (this.#field) return this.#giveBack(event)
    if (event.key === 'Tab') this.#end(event, next)
    if (!ends) this.#pause = setTimeout(() => this.#end(undefined, next), PAUSE)
    else this.#length = 0
  }

  #begin(target: EventTarget | null): void {
    this.#length = 0
    const field = target instanceof HTMLInputElement || target instanceof HTMLTextAreaElement ? target : undefined
    this.#field = field && { field, value: field.value }
  }

  #end(event: KeyboardEvent | undefined, next: () => void): void {
    event?.preventDefault()
    this.#length = 0
    next()
  }

  /** The burst was not meant for this field. */
  #giveBack(event: KeyboardEvent): void {
    event.preventDefault()
    event.stopPropagation()
    const { field, value } = this.#field!
    field.value = value
    field.dispatchEvent(new Event('input', { bubbles: true }))
  }
}
