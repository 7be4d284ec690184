/** One line of a form: what it is called, how it is typed, and what it begins with. */
export type Line = {
  key: string
  as: 'text' | 'length' | 'number' | 'percent' | 'yes' | 'choice'
  optional?: boolean
  /** Held in memory alone until it is kept: it is sealed then. */
  secret?: boolean
  of?: readonly string[]
  first?: string | number | boolean
}

/** Lines of each kind. */
export const text = (key: string, first?: string): Line => ({ key, as: 'text', first })
export const secret = (line: Line): Line => ({ ...line, secret: true })
export const maybe = (line: Line): Line => ({ ...line, optional: true })
export const number = (key: string, first?: number): Line => ({ key, as: 'number', first })
export const length = (key: string, first?: number): Line => ({ key, as: 'length', first })
export const yes = (key: string, first: boolean): Line => ({ key, as: 'yes', first })

/** The time now as the core keeps it: with its offset. */
export function nowAt(date = new Date()): string {
  const two = (n: number) => `${Math.floor(Math.abs(n))}`.padStart(2, '0')
  const day = [date.getFullYear(), two(date.getMonth() + 1), two(date.getDate())].join('-')
  const time = [date.getHours(), date.getMinutes(), date.getSeconds()].map(two).join(':')
  const offset = -date.getTimezoneOffset()
  return `${day}T${time}${offset < 0 ? '-' : '+'}${two(offset / 60)}:${two(offset % 60)}`
}
