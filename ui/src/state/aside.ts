/**
 * What was typed or tried out and not kept when its screen was left, by what it is: there again when one comes back.
 * It is held in memory alone, for names and places may be among it.
 */
const left = new Map<string, unknown>()

/** What was left there. */
export function leftAt<T>(place: string): T | undefined {
  return left.get(place) as T | undefined
}

/** Holds it there, or forgets it. */
export function leaveAt(place: string, value: unknown): void {
  if (value === undefined) left.delete(place)
  else left.set(place, value)
}
