const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']

/** `two joists`, `no cut`: small counts as words. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${COUNTS[count] ?? count} ${count === 1 ? one : many}`
}

/** With a capital first letter. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

/** `a`, `a and b`, `a, b and c`. */
export function listed(all: readonly string[]): string {
  return all.length < 2 ? (all[0] ?? '') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`
}
