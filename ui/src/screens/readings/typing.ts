import type { Entry } from '../../state/entry.svelte'

/** A reading typed on a keyboard: its characters build the text, Enter is *next*. */
export function typing(event: KeyboardEvent, entry: Entry, next: () => void): void {
  if (event.ctrlKey || event.metaKey || event.altKey || elsewhere(event.target)) return
  if (isNext(event)) next()
  else if (event.key === 'Backspace') entry.back()
  else if (event.key === 'Escape') entry.clear()
  else if (isPart(event.key, entry)) entry.type(event.key)
  else return
  event.preventDefault()
}

/** Enter on a focused key presses that key. A volume key is *next* where the platform hands it over. */
function isNext(event: KeyboardEvent): boolean {
  if (event.key === 'AudioVolumeUp' || event.key === 'AudioVolumeDown') return true
  return event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)
}

/** Whether the character can stand in a length; words and spaces only behind a number. */
function isPart(key: string, entry: Entry): boolean {
  if (key.length !== 1) return false
  return /[\d.,/'"+-]/.test(key) || (entry.typed !== undefined && /[ a-z]/i.test(key))
}

/** Whether the key is meant for a field, or for a panel over the pad. */
function elsewhere(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest('input, textarea, dialog') !== null
}
