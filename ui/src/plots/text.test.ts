import { expect, test } from 'vitest'
import { pieces, widthOf } from './text'

test.each([
  ['43-7/8 in', ['43', '7', '⁄', '8', ' in']],
  ['7/16 high', ['7', '⁄', '16', ' high']],
  ['gap 11/16', ['gap ', '11', '⁄', '16']],
  ['J4', ['J4']],
  ['8.3', ['8.3']],
])('%s is cut at its fraction', (text, expected) => {
  expect(pieces(text).map((piece) => piece.text)).toEqual(expected)
})

test('a fraction is narrower than its figures in a row', () => {
  expect(widthOf('44-3/16', 14)).toBeLessThan(widthOf('44.3160', 14))
})
