import { expect, test } from 'vitest'
import type { JoistWork } from '../../bridge/generated/JoistWork'
import { INCH } from '../../units'
import { pieces } from './strip'

const stations = [0, 30, 60, 90].map((station) => station * INCH)
const work = (given: Partial<JoistWork>): JoistWork => ({
  id: 'J4',
  action: 'strip',
  lifts: [],
  cuts: [0, 0, 0, 0],
  reasons: [],
  why: [],
  strips: [],
  done: false,
  ...given,
})
const said = (given: Partial<JoistWork>) =>
  pieces(work(given), stations).map(({ kind, figures }) => [
    kind,
    ...figures.map(({ station, thickness }) => [
      Math.round((10 * station) / INCH) / 10,
      Math.round((16 * thickness) / INCH),
    ]),
  ])

test('strips are drawn as they come, without a figure that falls on the one before', () => {
  const strip = {
    from: 0,
    to: 762,
    figures: [
      { station: 0, thickness: 7.9375 },
      { station: 762, thickness: 1.5875 },
      { station: 762.0002, thickness: 1.5875 },
    ],
  }
  expect(said({ strips: [strip] })).toEqual([['strip', [0, 5], [30, 1]]])
})

test('a cut reaches from where the top leaves the target to where it meets it', () => {
  const sixteenth = INCH / 16
  const lifts = [4, 0, -2, 3].map((lift) => lift * sixteenth)
  const cuts = [0, 0, 2 * sixteenth, 0]
  expect(said({ action: 'dress', lifts, cuts })).toEqual([['cut', [30, 0], [60, -2], [72, 0]]])
})

test('a sister shows how far the old top is low, and nothing where it was not read', () => {
  const lifts = [12.7, 25.4, null, 15.875]
  expect(said({ action: 'sister', lifts })).toEqual([
    ['low', [0, 8], [30, 16]],
    ['low', [90, 10]],
  ])
})
