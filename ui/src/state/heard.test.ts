import { expect, test } from 'vitest'
import { readingIn } from './heard'

test.each([
  ['44 and 3/16', '44-3/16'],
  ['44 3/16', '44-3/16'],
  ['forty-four and three sixteenths', '44-3/16'],
  ['Forty four and a quarter.', '44-1/4'],
  ['44-1/8 strong', '44-1/8 strong'],
  ['four three eighths', '4-3/8'],
  ['five eighths shy', '5/8 shy'],
  ['forty three inches', '43'],
  ['44', '44'],
  ['eleven hundred and twenty two point five', '1122.5'],
  ['1122.5', '1122.5'],
  ['minus three eighths', '-3/8'],
  ['forty four and eleven thirty-seconds', '44-11/32'],
  ['one thousand one hundred twenty', '1120'],
])('%s is %s', (said, text) => {
  expect(readingIn(said, 'en-US')).toBe(text)
})

test.each([
  ['cuarenta y cuatro y tres dieciseisavos', '44-3/16'],
  ['44 y 3/16', '44-3/16'],
  ['cuarenta y cuatro y medio', '44-1/2'],
  ['cuarenta y cuatro y un cuarto largo', '44-1/4 strong'],
  ['mil ciento veintidós coma cinco', '1122.5'],
  ['menos 12,5', '-12.5'],
])('%s es %s', (said, text) => {
  expect(readingIn(said, 'es')).toBe(text)
})

test.each([
  '',
  'hello there',
  'next',
  'forty four and seventeen sixteenths',
  '44 1/3',
  'point',
  'four fish',
  'forty four three',
  'ten four',
])('%s is no reading', (said) => {
  expect(readingIn(said, 'en-US')).toBeUndefined()
})
