import { expect, test } from 'vitest'
import { endsOf, holds, isNoRoom, lengthOf, nookOf, openingOf, rectangle, sidesOf, type Corner } from './outline'

/** A T: its stem stands on the first wall. */
const tee: Corner[] = [
  [1000, 0],
  [2000, 0],
  [2000, 1500],
  [3000, 1500],
  [3000, 2400],
  [0, 2400],
  [0, 1500],
  [1000, 1500],
]

test.each<[string, Corner, boolean]>([
  ['in the stem', [1500, 100], true],
  ['on a wall', [2000, 700], true],
  ['at a corner that points inward', [1000, 1500], true],
  ['beside the stem', [500, 700], false],
  ['under the bar', [500, 2000], true],
  ['beyond it', [3001, 2000], false],
])('a place lies in the room or not: %s', (_, [x, y], within) => {
  expect(holds(tee, x, y)).toBe(within)
})

test.each<[string, Corner[], boolean]>([
  ['a rectangle', rectangle(2400, 1800), false],
  ['a T', tee, false],
  [
    'two corners',
    [
      [0, 0],
      [1, 0],
    ] as Corner[],
    true,
  ],
  [
    'a bow tie',
    [
      [0, 0],
      [2000, 2000],
      [2000, 0],
      [0, 2000],
    ] as Corner[],
    true,
  ],
  [
    'a corner on another wall',
    [
      [0, 0],
      [2000, 0],
      [2000, 2000],
      [1000, 0],
      [0, 2000],
    ] as Corner[],
    true,
  ],
  [
    'two corners in one place',
    [
      [0, 0],
      [2000, 0],
      [2000, 0],
      [0, 2000],
    ] as Corner[],
    true,
  ],
  [
    'all in one line',
    [
      [0, 0],
      [1000, 0],
      [2000, 0],
    ] as Corner[],
    true,
  ],
  ['a nook deeper than the room', rectangle(2400, 1800, { width: 800, depth: 1900 }), true],
])('walls that cross or touch make no room: %s', (_, outline, none) => {
  expect(isNoRoom(outline)).toBe(none)
})

test('a corner taken out is read back', () => {
  expect(nookOf(rectangle(2400, 1800, { width: 800, depth: 600 }))).toEqual({ width: 800, depth: 600 })
  expect(nookOf(rectangle(2400, 1800))).toBeUndefined()
})

test.each([{ side: 2 }, { side: 4, from: 300, to: 1200 }, { side: 4, to: 1200 }])(
  'an opening is read back: %j',
  (opening) => {
    expect(openingOf(tee, endsOf(tee, opening)!)).toEqual(opening)
    const length = (opening.to ?? lengthOf(sidesOf(tee)[opening.side]!)) - (opening.from ?? 0)
    expect(lengthOf(endsOf(tee, opening)!)).toBeCloseTo(length, 9)
  },
)

test('a line off every wall opens none', () => {
  expect(
    openingOf(tee, [
      [100, 100],
      [200, 200],
    ]),
  ).toBeUndefined()
  expect(endsOf(tee, { side: 99 })).toBeUndefined()
})
