import { describe, expect, test } from 'vitest'
import {
  compared,
  distance,
  feet,
  figure,
  figureIn,
  fraction,
  INCH,
  length,
  millimetres,
  mixed,
  ratio,
  signed,
  uncertainty,
  type Shown,
} from './units'

const MINUS = '\u2212'

/** Each function over its cases: what goes in, what comes out. */
function check<A extends unknown[]>(name: string, f: (...given: A) => string, cases: [A, string][]) {
  test.each(cases)(`${name} %j is %s`, (given, text) => expect(f(...given)).toBe(text))
}

describe('inches as fractions', () => {
  // An inch is 25.4 mm exactly; exact fractions and carries by arithmetic.
  check('fraction', fraction, [
    [[0], '0'],
    [[1.5875], '1/16'],
    [[3.175], '1/8'],
    [[4.7625], '3/16'],
    [[6.35], '1/4'],
    [[31.75], '1-1/4'],
    [[0.79375, 32], '1/32'],
    [[0.396875, 64], '1/64'],
    [[44.1875 * INCH], '44-3/16'],
    [[-0.875 * INCH], `${MINUS}7/8`],
  ])
  check('fraction carries', fraction, [
    [[(43 + 31 / 32) * INCH], '44'],
    [[(11 + 31 / 32) * INCH], '12'],
    [[-(43 + 31 / 32) * INCH], `${MINUS}44`],
  ])
  check('fraction rounds halves away from zero and never to a minus zero', fraction, [
    [[0.03125 * INCH], '1/16'],
    [[-0.03125 * INCH], `${MINUS}1/16`],
    [[-0.03 * INCH], '0'],
    [[-1e-9], '0'],
  ])
  check('fraction of a limit is rounded down, of a cover up', fraction, [
    [[(9.25 / 6) * INCH, 16, 'down'], '1-1/2'],
    [[(9.25 / 6) * INCH, 16, 'nearest'], '1-9/16'],
    [[(9.25 / 6) * INCH, 16, 'up'], '1-9/16'],
    [[3.175, 16, 'down'], '1/8'],
    [[3.175, 16, 'up'], '1/8'],
  ])
  test('lengths that differ are not shown alike', () => {
    const shown = (one: number, other: number, units: Shown) => [
      compared(one, other, units),
      compared(other, one, units),
    ]
    expect(shown(0.687 * INCH, 0.667 * INCH, 'in')).toEqual(['0.687 in', '0.667 in'])
    expect(shown(0.75 * INCH, 0.75 * INCH, 'in')).toEqual(['3/4 in', '3/4 in'])
    expect(shown(0.5 * INCH, 0.75 * INCH, 'in')).toEqual(['1/2 in', '3/4 in'])
    expect(shown(0.687 * INCH, 0.691 * INCH, 'decimal')).toEqual(['0.687 in', '0.691 in'])
    expect(shown(11.25, 9, 'mm')).toEqual(['11.3 mm', '9.0 mm'])
  })

  test('a fraction is reduced, its whole part apart', () => {
    expect(mixed(44.5 * INCH)).toEqual({ minus: false, whole: 44, over: 1, under: 2 })
    expect(mixed(44 * INCH)).toEqual({ minus: false, whole: 44, over: 0, under: 1 })
  })
})

describe('feet and inches', () => {
  check('feet', feet, [
    [[1031.875], `3'-4 5/8"`],
    [[36 * INCH], `3'-0"`],
    [[36.5 * INCH], `3'-0 1/2"`],
    [[0.875 * INCH], `7/8"`],
    [[(11 + 31 / 32) * INCH], `1'-0"`],
    [[(71 + 63 / 64) * INCH, 32], `6'-0"`],
    [[0], `0"`],
  ])
})

describe('millimetres', () => {
  check('millimetres', millimetres, [
    [[1122.3625], '1122.4'],
    [[0.05], '0.1'],
    [[-0.04], '0.0'],
    [[-1.25], `${MINUS}1.3`],
    [[1800, 0], '1800'],
    [[0.5, 0], '1'],
  ])
})

describe('in the units of the room', () => {
  check('length', length, [
    [[44.1875 * INCH, 'in'], '44-3/16 in'],
    [[1122.3625, 'mm'], '1122.4 mm'],
  ])
  check('figure', figure, [
    [[11.1125, 'in'], '7/16'],
    [[1.8, 'mm'], '1.8'],
  ])
  check('distance', distance, [
    [[60 * INCH, 'in'], '60 in'],
    [[1524, 'mm'], '1524 mm'],
  ])
  check('signed', signed, [
    [[6.35, 'in'], '+1/4'],
    [[-9.525, 'in'], `${MINUS}3/8`],
    [[0.2, 'in'], '0'],
    [[0.04, 'mm'], '0.0'],
    [[2.5, 'mm'], '+2.5'],
  ])
  // The standard uncertainty of a tape against a line is 1/32 in: ±1/16 at k = 2.
  check('uncertainty', uncertainty, [
    [[0.79375, 'in'], '±1/16 in'],
    [[0.396875, 'in'], '±1/32 in'],
    [[0.05, 'in'], '±1/64 in'],
    [[0.5, 'mm'], '±1.0 mm'],
  ])
})

check('ratio', ratio, [
  [[1 / 48], '1:48'],
  [[-1 / 80], `${MINUS}1:80`],
  [[0], '0'],
])

for (const [text, want] of [
  ['0.5', 0.5],
  ['0,5', 0.5],
  ['1:48', 1 / 48],
  ['1 in 62.5', 0.016],
  ['one', NaN],
  ['1,500', NaN],
  ['0,125', 0.125],
  ['1500', 1500],
  ['-3', -3],
  ['0x10', NaN],
  ['', NaN],
] as const) {
  test(`figureIn ${text}`, () => expect(figureIn(text)).toBe(want))
}
