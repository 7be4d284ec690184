import { expect, test } from 'vitest'
import { listed } from './listed'

test.each([
  ['44-1/8\n44-3/16\r\n\r\n44', ['44-1/8', '44-3/16', '44']],
  ['1122,5\t1123\n', ['1122,5', '1123']],
  ['44 1/8; 44 3/16, 44', ['44 1/8', '44 3/16', '44']],
  ['', []],
  [' \n ', []],
])('%j is a list', (text, entries) => {
  expect(listed(text)).toEqual(entries)
})
