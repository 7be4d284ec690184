const COUNTS = ['ningún', 'un', 'dos', 'tres', 'cuatro', 'cinco', 'seis', 'siete', 'ocho', 'nueve', 'diez']
const FEMININE: Record<number, string> = { 0: 'ninguna', 1: 'una' }

/** `dos tiras`, `ninguna vigueta`: los números pequeños con letras; el género es el de la palabra. */
export function counted(count: number, one: string, many = `${one}s`, feminine = true): string {
  const number = (feminine ? FEMININE[count] : undefined) ?? COUNTS[count] ?? `${count}`
  return `${number} ${count === 1 || count === 0 ? one : many}`
}

/** `a`, `a y b`, `a, b y c`. */
export function listed(all: readonly string[]): string {
  if (all.length < 2) return all[0] ?? ''
  const last = all.at(-1)!
  return `${all.slice(0, -1).join(', ')} ${/^h?i/i.test(last) ? 'e' : 'y'} ${last}`
}
