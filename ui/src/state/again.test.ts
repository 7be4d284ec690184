import { expect, test } from 'vitest'
import type { Plan } from '../bridge/generated/Plan'
import { readAgain } from './again'

const plan: Plan = {
  outline: [],
  base_wall: 'door wall',
  side_wall: 'left wall',
  joists_along: 'y',
  joists: [],
  surveys: [{ id: 'joists', name: 'joists as found', surface: 'framing' }],
  points: [0, 762].map((y) => ({ id: `J1@${y}`, survey: 'joists', x: 0, y, joist: 'J1' })),
}

test('the same places are read again under names of their own, as often as one likes', () => {
  const once = readAgain(plan, 'joists', 'after')
  expect(once.survey).toBe('joists·2')
  expect(once.plan.points.map(({ id, survey, x, y }) => [id, survey, x, y])).toEqual([
    ['J1@0', 'joists', 0, 0],
    ['J1@762', 'joists', 0, 762],
    ['J1@0·2', 'joists·2', 0, 0],
    ['J1@762·2', 'joists·2', 0, 762],
  ])
  const twice = readAgain(once.plan, 'joists', 'after')
  expect(twice.survey).toBe('joists·3')
  expect(new Set(twice.plan.points.map(({ id }) => id)).size).toBe(6)
})

test('a survey that is not there changes nothing', () => {
  expect(readAgain(plan, 'floor', 'after')).toEqual({ plan, survey: 'floor' })
})
