import type { Units } from './bridge/generated/Units'

/** An inch in mm, exactly. */
export const INCH = 25.4
/** Two lengths this close, in mm, are one: the core's own slack. */
const SAME = 1e-6
const MINUS = '\u2212'

export type Rounding = 'nearest' | 'down' | 'up'

/** A length in inches as it is set: a sign, a whole part and a reduced fraction. */
export type Mixed = { minus: boolean; whole: number; over: number; under: number }

/** How many of `part` (mm) the length holds, halves away from zero: `floor` and `ceil` where asked. */
function count(mm: number, part: number, rounding: Rounding): number {
  const parts = mm / part
  const slack = SAME / part
  if (rounding === 'down') return Math.floor(parts + slack)
  if (rounding === 'up') return Math.ceil(parts - slack)
  return Math.sign(parts) * Math.floor(Math.abs(parts) + 0.5 + slack)
}

/** The length in inches to the nearest `1/under`, carried and reduced. Never minus zero. */
export function mixed(mm: number, under = 16, rounding: Rounding = 'nearest'): Mixed {
  const all = count(mm, INCH / under, rounding)
  const parts = Math.abs(all)
  return { minus: all < 0, whole: Math.floor(parts / under), ...reduced(parts % under, under) }
}

/** The fraction in its smallest terms; nothing is `0/1`. */
export function reduced(over: number, under: number): { over: number; under: number } {
  const common = greatestCommon(over, under)
  return { over: over / common, under: under / common }
}

function greatestCommon(a: number, b: number): number {
  return b === 0 ? a : greatestCommon(b, a % b)
}

/** The length in inches as text without a mark: `44-3/16`, `−7/8`, `0`. */
export function fraction(mm: number, under = 16, rounding: Rounding = 'nearest'): string {
  const { minus, whole, over, under: below } = mixed(mm, under, rounding)
  const parts = over === 0 ? `${whole}` : `${whole === 0 ? '' : `${whole}-`}${over}/${below}`
  return (minus ? MINUS : '') + parts
}

/** The length as feet and inches with their marks: `3'-4 5/8"`; below a foot inches only. */
export function feet(mm: number, under = 16): string {
  const { minus, whole, over, under: below } = mixed(mm, under)
  const [ft, inches] = [Math.floor(whole / 12), whole % 12]
  const tail = over === 0 ? '' : `${over}/${below}`
  const rest = inches === 0 && ft === 0 && tail ? tail : [`${inches}`, tail].filter(Boolean).join(' ')
  return (minus ? MINUS : '') + (ft === 0 ? `${rest}"` : `${ft}'-${rest}"`)
}

/** The length in mm with `places` decimals, halves away from zero: `1122.4`. Never minus zero. */
export function millimetres(mm: number, places = 1): string {
  const all = count(mm, 10 ** -places, 'nearest')
  return (all < 0 ? MINUS : '') + (Math.abs(all) / 10 ** places).toFixed(places)
}

/** The length in the room's units with its unit: `44-3/16 in`, `1122.4 mm`. */
export function length(mm: number, units: Units, under = 16): string {
  return units === 'in' ? `${fraction(mm, under)} in` : `${millimetres(mm)} mm`
}

/** The bare figure in the room's units: `44-3/16`, `1122.4`. */
export function figure(mm: number, units: Units, under = 16): string {
  return units === 'in' ? fraction(mm, under) : millimetres(mm)
}

/** A distance on the plan in the room's units, where a tenth of a mm says nothing: `5'-0"` stays `60 in`; `1524 mm`. */
export function distance(mm: number, units: Units): string {
  return units === 'in' ? `${fraction(mm, 8)} in` : `${millimetres(mm, 0)} mm`
}

/** The figure with its sign, for differences: `+1/4`, `−3/8`, `0`. */
export function signed(mm: number, units: Units, under = 16): string {
  const text = figure(mm, units, under)
  return text.startsWith(MINUS) || /^[0.]+$/.test(text) ? text : `+${text}`
}

/** The expanded uncertainty of a standard uncertainty (k = 2): `±1/16`, `±1.0 mm`; to a thirty-second, never zero. */
export function uncertainty(u: number, units: Units): string {
  if (units === 'mm') return `±${millimetres(2 * u)} mm`
  const text = fraction(2 * u, 32)
  return `±${text === '0' && u > 0 ? '1/64' : text} in`
}

/** A slope as a ratio, `1:48`; level is `0`. */
export function ratio(slope: number): string {
  const steep = Math.abs(slope)
  return steep < 1e-6 ? '0' : `${slope < 0 ? MINUS : ''}1:${Math.round(1 / steep)}`
}

/** A typed number of a form in mm; empty where it is none. The core reads lengths; this only reads plain decimals. */
export function mmOf(value: number, units: Units): number {
  return units === 'in' ? value * INCH : value
}

/** The number of a form for a length in mm, free of the noise of the conversion. */
export function ofMm(mm: number, units: Units): number {
  return Number((units === 'in' ? mm / INCH : mm).toFixed(6))
}

/** A plain figure as typed, or a slope said as one in so many: `0.5`, `0,5`, `1:48`, `1 in 48`. */
export function figureIn(text: string): number {
  const slope = /^\s*1\s*(?::|\/|in)\s*(\d+(?:[.,]\d+)?)\s*$/.exec(text)
  const number = (digits: string) => Number(digits.replace(',', '.'))
  return slope ? 1 / number(slope[1]!) : number(text)
}
