import { expect, test } from 'vitest'
import { partOf, spotOf, type Spot } from './place'

const spots: Spot[] = [
  { survey: 'joists', joist: 'J4', from: 762, to: 2286 },
  { survey: 'floor', x: 508.25, y: 1143 },
]

test.each(spots)('%j is found again in its address', (spot) => {
  expect(spotOf(partOf(spot))).toEqual(spot)
})

test.each([undefined, '', 'joists', 'joists;J4', 'joists;J4;a;b', ';J4;1;2'])('%j names no spot', (part) => {
  expect(spotOf(part)).toBeUndefined()
})

test('a stretch is told from its near end', () => {
  expect(spotOf('joists;J4;90;30')).toEqual({ survey: 'joists', joist: 'J4', from: 30, to: 90 })
})
