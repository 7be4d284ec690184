import { describe, expect, test } from 'vitest'
import { contains, enlarged, extent, frameOf, moved, whole, type Place } from './frame'

const plan = { left: 0, top: 0, right: 2400, bottom: 2000 }
const box = { left: 40, top: 20, right: 340, bottom: 320 }

describe('the plan on the picture', () => {
  test.each<[Place, Place]>([
    [
      [0, 0],
      [40, 295],
    ],
    [
      [2400, 2000],
      [340, 45],
    ],
    [
      [1200, 1000],
      [190, 170],
    ],
  ])('%j stands at %j: y into the room is up', ([x, y], [px, py]) => {
    const frame = frameOf(plan, box, whole(plan))
    expect(frame.x(x)).toBeCloseTo(px, 9)
    expect(frame.y(y)).toBeCloseTo(py, 9)
    expect(frame.plan([px, py])[0]).toBeCloseTo(x, 6)
    expect(frame.plan([px, py])[1]).toBeCloseTo(y, 6)
  })

  test('enlarging keeps the place between the fingers where it is', () => {
    const about: Place = [1100, 900]
    const before = frameOf(plan, box, whole(plan))
    const after = frameOf(plan, box, enlarged(whole(plan), plan, 2, about))
    expect(after.scale).toBeCloseTo(2 * before.scale, 9)
    expect(after.x(about[0])).toBeCloseTo(before.x(about[0]), 6)
    expect(after.y(about[1])).toBeCloseTo(before.y(about[1]), 6)
  })

  test('it never becomes smaller than the whole, nor larger than eight times, nor leaves the plan', () => {
    expect(enlarged(whole(plan), plan, 0.1)).toEqual(whole(plan))
    expect(enlarged(whole(plan), plan, 100).zoom).toBe(8)
    expect(moved({ zoom: 2, middle: [1200, 1000] }, plan, [-9000, 9000]).middle).toEqual([600, 1500])
  })

  test('no place at all is still a box', () => {
    expect(extent([])).toEqual({ left: 0, top: 0, right: 1, bottom: 1 })
    expect(contains(extent([[3, 4]]), [3, 4])).toBe(true)
  })
})
