/**
 * What was typed or tried out and not kept when its screen was left, by what it is: there again when one comes back,
 * also when the page was loaded again or the phone ended the program.
 *
 * It is the one place where typed text is put into the browser's storage, under the origin of this program alone. What
 * people type to be sealed (who signed, who was there, where the room is) is held in memory only, and a code of the
 * crew nowhere.
 */
const left = new Map<string, unknown>()

/** Raised when the form of what is held changes: what an older program held is then not shown in a newer one. */
const PREFIX = 'truefall-left-1 '

/** What was left there. */
export function leftAt<T>(place: string): T | undefined {
  if (!left.has(place)) {
    const stored = read(place)
    if (stored !== undefined) left.set(place, stored)
  }
  return left.get(place) as T | undefined
}

/** Holds it there, or forgets it. `shown` is what of it may be stored; nothing where it is to stay in memory. */
export function leaveAt(place: string, value: unknown, shown: unknown = value): void {
  if (value === undefined) left.delete(place)
  else left.set(place, value)
  store(place, value === undefined ? undefined : shown)
}

function read(place: string): unknown {
  try {
    return JSON.parse(localStorage.getItem(PREFIX + place) ?? 'null') ?? undefined
  } catch {
    return undefined
  }
}

function store(place: string, value: unknown): void {
  try {
    if (value === undefined) localStorage.removeItem(PREFIX + place)
    else localStorage.setItem(PREFIX + place, JSON.stringify(value))
  } catch {
    // A browser that keeps nothing holds it in memory.
  }
}
