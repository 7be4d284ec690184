import type { Units } from './bridge/generated/Units'
import { words } from './words'
import { spoken } from './words/spoken.svelte'

/** How lengths are shown: inches and fractions, decimal inches, or millimetres. */
export type Shown = Units | 'decimal'

/** The units that the core knows them by. */
export function unitsOf(shown: Shown): Units {
  return shown === 'mm' ? 'mm' : 'in'
}

/** An inch in mm, exactly. */
export const INCH = 25.4

/** Inches in millimetres, to the nearest number, as the core has it of typed text. */
export const fromInches = (count: number) => (count * 254) / 10
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

/** A count of `part` (mm) with its decimals behind the mark of the language. Never minus zero. */
function decimals(mm: number, part: number, places: number, rounding: Rounding = 'nearest'): string {
  const all = count(mm, part * 10 ** -places, rounding)
  return (all < 0 ? MINUS : '') + marked((Math.abs(all) / 10 ** places).toFixed(places))
}

/** A plain number as the language writes it: `44.125`, `44,125`. */
export function marked(number: string): string {
  return spoken.mark === '.' ? number : number.replace('.', spoken.mark)
}

/** The length in mm with `places` decimals: `1122.4`, `1122,4`. */
export function millimetres(mm: number, places = 1): string {
  return decimals(mm, 1, places)
}

/** The length in decimal inches: `44.19`. */
export function inches(mm: number, places = 2): string {
  return decimals(mm, INCH, places)
}

function unit(units: Shown): string {
  return words().unit[unitsOf(units)]
}

/** The length in the units shown, with its unit: `44-3/16 in`, `44.19 in`, `1122.4 mm`. */
export function length(mm: number, units: Shown, under = 16): string {
  return `${figure(mm, units, under)} ${unit(units)}`
}

/** The bare figure in the units shown: `44-3/16`, `44.19`, `1122.4`. */
export function figure(mm: number, units: Shown, under = 16): string {
  if (units === 'mm') return millimetres(mm)
  return units === 'in' ? fraction(mm, under) : inches(mm, under > 16 ? 3 : 2)
}

/** Whether two lengths that differ would be shown as one. */
function hidden(mm: number, other: number, units: Shown, under: number): boolean {
  return Math.abs(mm - other) > SAME && figure(mm, units, under) === figure(other, units, under)
}

/** How two lengths that are compared are shown: in decimals where fractions would make one of two. */
export function apart(mm: number, other: number, units: Shown, under = 16): Shown {
  return units !== 'mm' && hidden(mm, other, units, under) ? 'decimal' : units
}

/** A length with its unit beside another that it is compared with: in thousandths where fractions would hide why. */
export function compared(mm: number, other: number, units: Shown, under = 16): string {
  const fine = hidden(mm, other, units, under)
  return fine ? length(mm, apart(mm, other, units, under), 64) : length(mm, units, under)
}

/** The figure without decimals that say nothing: `1120` for `1120.0`. */
export function trimmed(mm: number, units: Shown, under = 16): string {
  const text = figure(mm, units, under)
  return units === 'in' ? text : text.replace(/[.,]?0+$/, (zeros) => (/[.,]/.test(zeros) ? '' : zeros))
}

/** A limit with its unit, rounded down so that nothing beyond it is said to be allowed. */
export function limit(mm: number, units: Shown): string {
  if (units === 'in') return `${fraction(mm, 16, 'down')} ${unit(units)}`
  return `${units === 'mm' ? decimals(mm, 1, 1, 'down') : decimals(mm, INCH, 2, 'down')} ${unit(units)}`
}

/** A distance on the plan, where a tenth of a mm says nothing: `60 in`, `60.5 in`, `1524 mm`. */
export function distance(mm: number, units: Shown): string {
  return `${place(mm, units)} ${unit(units)}`
}

/** The same without its unit. */
export function place(mm: number, units: Shown): string {
  if (units === 'mm') return millimetres(mm, 0)
  return units === 'in' ? fraction(mm, 8) : inches(mm, 1).replace(/[.,]0$/, '')
}

/** The figure with its sign, for differences: `+1/4`, `−3/8`, `0`. */
export function signed(mm: number, units: Shown, under = 16): string {
  const text = figure(mm, units, under)
  return text.startsWith(MINUS) || /^[0.,]+$/.test(text) ? text : `+${text}`
}

/** The expanded uncertainty of a standard uncertainty (k = 2): `±1/16`, `±1.0 mm`; to a thirty-second, never zero. */
export function uncertainty(u: number, units: Shown): string {
  if (units === 'mm') return `±${millimetres(2 * u)} ${unit(units)}`
  if (units === 'decimal') return `±${inches(2 * u, 3)} ${unit(units)}`
  const text = fraction(2 * u, 32)
  return `±${text === '0' && u > 0 ? '1/64' : text} ${unit(units)}`
}

/** A slope as a ratio, `1:48`; level is `0`. */
export function ratio(slope: number): string {
  const steep = Math.abs(slope)
  return steep < 1e-6 ? '0' : `${slope < 0 ? MINUS : ''}1:${Math.round(1 / steep)}`
}

/** A plain number as typed: `0.5`, `0,5`. No number where it could be two: `1,500` is thousands or a decimal. */
export function numberIn(text: string): number {
  const digits = text.trim()
  return /^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/.test(digits) && !/^[-+]?[1-9]\d{0,2},\d{3}$/.test(digits)
    ? Number(digits.replace(',', '.'))
    : NaN
}

/** A plain figure as typed, or a slope said as one in so many: `0.5`, `0,5`, `1:48`, `1 in 48`. */
export function figureIn(text: string): number {
  const slope = /^\s*1\s*(?::|\/|in)\s*(\d+(?:[.,]\d+)?)\s*$/.exec(text)
  return slope ? 1 / numberIn(slope[1]!) : numberIn(text)
}

/** How much of an SI unit each unit of an inch room is: litres in a cubic foot, kg in a pound, and so on. */
const CUBIC_FOOT = 28.316846592
const POUND = 0.45359237
const GALLON = 3.785411784
const SQUARE_FOOT = 92903.04

/** Kinds of quantity that are typed as plain numbers, with what one of the unit is in the core's unit. */
export type Plain = 'volume' | 'water' | 'mass' | 'load' | 'flow' | 'share' | 'degrees'

export function plainUnit(kind: Plain, units: Shown): { unit: string; size: number } {
  const say = words().plainUnit
  const inch = units !== 'mm'
  const all: Record<Plain, { unit: string; size: number }> = {
    volume: inch ? { unit: say.cubicFeet, size: CUBIC_FOOT } : { unit: say.litres, size: 1 },
    water: inch ? { unit: say.waterGallons, size: GALLON } : { unit: say.litres, size: 1 },
    mass: inch ? { unit: say.pounds, size: POUND } : { unit: say.kilograms, size: 1 },
    load: inch
      ? { unit: say.poundsPerFoot, size: (POUND / SQUARE_FOOT) * 1e6 }
      : { unit: say.kilogramsPerMetre, size: 1 },
    flow: inch ? { unit: say.gallons, size: GALLON } : { unit: say.litresPerMinute, size: 1 },
    share: { unit: '%', size: 0.01 },
    degrees: { unit: '°', size: 1 },
  }
  return all[kind]
}

/** A plain quantity with its unit: `0.47 ft³`, `13.3 L`. */
export function plain(value: number, kind: Plain, units: Shown): string {
  const { unit, size } = plainUnit(kind, units)
  return `${rounded(value / size)} ${unit}`
}

/** A number to three figures or so, without zeros that say nothing. */
export function rounded(value: number): string {
  const places = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2
  const text = value.toFixed(places)
  return marked(places ? text.replace(/\.?0+$/, '') : text)
}

/** An area in square feet or square metres. */
export function area(mm2: number, units: Shown): string {
  const say = words().plainUnit
  return units === 'mm'
    ? `${rounded(mm2 * 1e-6)} ${say.squareMetres}`
    : `${rounded(mm2 / SQUARE_FOOT)} ${say.squareFeet}`
}

/** A slope as the trade says it: `1:48`, with inches per foot beside it in inch rooms. */
export function pitch(slope: number, units: Shown): string {
  const perFoot = Math.abs(slope * 12)
  return units === 'mm'
    ? ratio(slope)
    : `${ratio(slope)} · ${slope < 0 ? MINUS : ''}${marked(perFoot.toFixed(3))} ${words().plainUnit.inchesPerFoot}`
}
