import { expect, test } from 'vitest'
import { arrowhead } from './ways'

test('the arrow points the way the water runs, a little along it', () => {
  expect(
    arrowhead([
      [0, 0],
      [100, 0],
    ]),
  ).toBe('M12.0 -4.2L18.0 0.0L12.0 4.2')
  expect(
    arrowhead([
      [0, 0],
      [10, 0],
      [10, 50],
    ]),
  ).toBe('M14.2 2.0L10.0 8.0L5.8 2.0')
})

test('a way too short to carry an arrow has none', () => {
  expect(
    arrowhead([
      [0, 0],
      [9, 0],
      [9, 8],
    ]),
  ).toBe('')
  expect(arrowhead([])).toBe('')
})
