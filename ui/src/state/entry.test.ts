import { describe, expect, test } from 'vitest'
import { INCH } from '../units'
import { Entry } from './entry.svelte'

/** An inch room that holds the whole inch of this reading. */
function holding(inches: number): Entry {
  const entry = new Entry('in')
  entry.hold(inches * INCH)
  return entry
}

const steps: [string, (entry: Entry) => void, string][] = [
  ['nothing yet', () => {}, ''],
  ['a sixteenth', (e) => e.chooseSixteenth(3), '44-3/16'],
  ['the even inch', (e) => e.chooseSixteenth(0), '44'],
  ['eighths are reduced', (e) => e.chooseSixteenth(14), '44-7/8'],
  ['the inch below', (e) => (e.step(-1), e.chooseSixteenth(14)), '43-7/8'],
  ['the inch above', (e) => (e.step(1), e.chooseSixteenth(0)), '45'],
  ['a thirty-second more', (e) => (e.chooseSixteenth(3), e.addThirtySecond()), '44-7/32'],
  ['strong', (e) => (e.chooseSixteenth(3), e.setFeel('strong')), '44-3/16 strong'],
  ['strong and then not', (e) => (e.chooseSixteenth(3), e.setFeel('strong'), e.setFeel('strong')), '44-3/16'],
  ['another whole inch', (e) => (e.digit('5'), e.digit('0'), e.chooseSixteenth(1)), '50-1/16'],
  ['a whole inch alone', (e) => (e.digit('5'), e.digit('0')), '50'],
  ['a decimal', (e) => (e.digit('4'), e.digit('4'), e.point(), e.digit('1'), e.digit('9')), '44.19'],
  ['minus', (e) => (e.digit('0'), e.sign(), e.chooseSixteenth(3)), '-3/16'],
  ['taken back', (e) => (e.chooseSixteenth(3), e.back()), ''],
  ['typed', (e) => [...'44 3/16+'].forEach((c) => e.type(c)), '44 3/16+'],
  ['typed and taken back', (e) => ([...'44x'].forEach((c) => e.type(c)), e.back()), '44'],
  ['a key after typing', (e) => (e.type('9'), e.chooseSixteenth(2)), '44-1/8'],
]

test.each(steps)('%s', (_, act, text) => {
  const entry = holding(44.25)
  act(entry)
  expect(entry.text).toBe(text)
  expect(entry.ready).toBe(text !== '')
})

describe('the whole inch that is held', () => {
  test.each([
    [44.9375, '44', '43', '45'],
    [45, '45', '44', '46'],
    [0.5, '0', '\u22120', '1'],
    [-0.5, '0', '\u22121', '0'],
  ])('of %s is %s between %s and %s', (inches, whole, below, above) => {
    const entry = holding(inches)
    expect([entry.digits, entry.neighbour(-1), entry.neighbour(1)]).toEqual([whole, below, above])
    expect(entry.ready).toBe(false)
  })
})

test('a millimetre room holds nothing and builds digits', () => {
  const entry = new Entry('mm')
  entry.hold(1122.4)
  expect(entry.text).toBe('')
  for (const digit of '1122') entry.digit(digit)
  entry.point()
  entry.digit('4')
  expect(entry.text).toBe('1122.4')
  entry.back()
  expect(entry.text).toBe('1122.0')
  entry.sign()
  expect(entry.text).toBe('-1122.0')
})

test('keys struck while a number is on its way are those of the next one, in their order', () => {
  const entry = new Entry('in')
  ;[...'44 1/8'].forEach((key) => entry.type(key))
  entry.close()
  ;[...'44 3'].forEach((key) => entry.type(key))
  expect(entry.text).toBe('44 1/8')
  entry.hold(44.125 * 25.4)
  entry.open(true)
  expect(entry.text).toBe('44 3')
})

test('a number that is kept by a key that waited has the keys before it and none after', () => {
  const entry = new Entry('mm')
  entry.close()
  const kept: string[] = []
  const next = () => {
    if (entry.waits(next)) return
    kept.push(entry.text)
    entry.close()
  }
  entry.digit('7')
  next()
  entry.digit('8')
  entry.open(true)
  expect(kept).toEqual(['7'])
  entry.hold(7)
  entry.open(true)
  expect(entry.text).toBe('8')
})

test('a number that was not kept stays as it is', () => {
  const entry = new Entry('mm')
  entry.digit('7')
  entry.close()
  entry.digit('8')
  entry.open(false)
  expect(entry.text).toBe('7')
})
