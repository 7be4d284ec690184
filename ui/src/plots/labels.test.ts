import { describe, expect, test } from 'vitest'
import type { Box, Place } from './frame'
import { overlap, placed, spread } from './labels'

const frame: Box = { left: 0, top: 0, right: 300, bottom: 300 }
const label = (x: number, y: number) => ({ at: [x, y] as Place, width: 70, height: 22, clear: 12 })

describe('labels near their places', () => {
  test('stand above where there is room, and inside the frame at its corners', () => {
    expect(placed([label(150, 150)], frame)[0]).toEqual({ left: 115, top: 116, right: 185, bottom: 138 })
    for (const [x, y] of [
      [2, 2],
      [298, 2],
      [2, 298],
      [298, 298],
    ] as const) {
      const [box] = placed([label(x, y)], frame)
      expect(box && box.left >= 0 && box.top >= 0 && box.right <= 300 && box.bottom <= 300).toBe(true)
    }
  })

  test('never cover one another, nor what is taken', () => {
    const taken = { left: 100, top: 100, right: 200, bottom: 145 }
    const crowd = [label(150, 150), label(155, 152), label(148, 160), label(160, 165)]
    const boxes = placed(crowd, frame, [taken]).filter((box) => box !== undefined)
    expect(boxes.length).toBe(4)
    boxes.forEach((box, index) => {
      expect(overlap(box, taken)).toBe(false)
      boxes.slice(index + 1).forEach((other) => expect(overlap(box, other)).toBe(false))
    })
  })

  test('one that finds no room is left out', () => {
    expect(placed([label(150, 150)], frame, [frame])).toEqual([undefined])
  })
})

describe('a row of figures', () => {
  test('stays where it is while it fits', () => {
    expect(spread([20, 100, 180], [30, 30, 30], 0, 200)).toEqual([20, 100, 180])
  })

  test('moves apart and stays between the edges', () => {
    const at = spread([190, 10, 185], [40, 40, 40], 0, 200)
    const [right, left, middle] = at as [number, number, number]
    expect(left).toBeGreaterThanOrEqual(20)
    expect(right).toBeLessThanOrEqual(180)
    expect(right - middle).toBeGreaterThanOrEqual(44)
  })
})
