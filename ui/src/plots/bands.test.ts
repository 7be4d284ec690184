import { expect, test } from 'vitest'
import type { MapBand } from '../bridge/generated/MapBand'
import { colour, painted } from './bands'

const band = (from: number, to: number): MapBand => ({ from, to, polygons: [[[from, 0]]] })

test('each band is painted with all above it, lowest first, and the one at the reference stays white', () => {
  const layers = painted([band(0.8, 2.4), band(-2.4, -0.8), band(-0.8, 0.8)])
  expect(layers.map(({ polygons }) => polygons.map(([corner]) => corner?.[0]))).toEqual([
    [-2.4, -0.8, 0.8],
    [-0.8, 0.8],
    [0.8],
  ])
  expect(layers.map(({ strength }) => Math.sign(strength))).toEqual([-1, 0, 1])
  expect(colour(0)).toContain(' 0%')
})

test('an even floor is drawn pale, a wild one in full', () => {
  const strongest = (from: number, to: number) => painted([band(from, to)])[0]?.strength
  expect(strongest(0.8, 1.6)).toBeCloseTo(1.2 / 12.7, 9)
  expect(strongest(20, 24)).toBeCloseTo(22 / 24, 9)
})
