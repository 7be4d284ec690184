import { expect, test } from 'vitest'
import { INCH } from '../units'
import { draftFrom, draftOf, every, fitting, planOf, resized, wrongIn } from './draft'

const inches = (mm: number) => Math.round((mm / INCH) * 1e6) / 1e6

test('a bath on open joists: joists at 16 on center, every second one walked back', () => {
  const plan = planOf(draftOf('bath', 'in'), 'in')
  expect(plan.joists.map(({ id, at }) => `${id} ${inches(at)}`)).toEqual([
    'J1 8',
    'J2 24',
    'J3 40',
    'J4 56',
    'J5 72',
    'J6 88',
  ])
  expect(plan.surveys.map(({ surface }) => surface)).toEqual(['framing'])
  expect(plan.points.slice(0, 10).map(({ id }) => id)).toEqual([
    'J1@0',
    'J1@24',
    'J1@48',
    'J1@72',
    'J1@96',
    'J2@96',
    'J2@72',
    'J2@48',
    'J2@24',
    'J2@0',
  ])
})

test('a floor is a grid of letters and numbers', () => {
  const plan = planOf(draftOf('floor', 'mm'), 'mm')
  expect(plan.joists).toEqual([])
  expect(plan.points.slice(0, 6).map(({ id }) => id)).toEqual(['A1', 'B1', 'C1', 'D1', 'E1', 'E2'])
  expect(plan.points).toHaveLength(25)
})

test('joists along the first wall count their stations from the second', () => {
  const draft = { ...draftOf('alcove', 'mm'), reads: 'joists' as const }
  const plan = planOf(draft, 'mm')
  expect(plan.joists_along).toBe('x')
  expect(plan.points[1]).toEqual({ id: 'J1@600', survey: 'joists', x: 600, y: 200, joist: 'J1' })
})

test.each(['bath', 'alcove', 'floor'] as const)('the plan of %s is read back as the same draft', (template) => {
  const draft = draftOf(template, 'in')
  expect(planOf(draftFrom(planOf(draft, 'in'), 'in'), 'in')).toEqual(planOf(draft, 'in'))
})

test('a larger room takes more joists, and is read as far as it goes unless the places were chosen', () => {
  const draft = draftOf('bath', 'mm')
  const wider = resized(draft, { width: 3000 })
  expect(wider.count).toBe(8)
  expect(resized(draft, { depth: 3000 }).stations).toEqual([0, 600, 1200, 1800, 2400, 3000])
  expect(resized({ ...draft, stations: [0, 500, 2000] }, { depth: 3000 }).stations).toEqual([0, 500, 2000])
})

test('what does not fit is said', () => {
  const draft = draftOf('bath', 'in')
  expect(wrongIn(draft, 30)).toBeUndefined()
  expect(wrongIn({ ...draft, count: 9 }, 30)).toMatch(/joists fit/)
  expect(wrongIn({ ...draft, stations: [0, 3000] }, 30)).toMatch(/outside/)
  expect(wrongIn(draft, 501)).toMatch(/501 points/)
})

test('even steps reach the far wall where they fall on it', () => {
  expect(every(600, 2400)).toEqual([0, 600, 1200, 1800, 2400])
  expect(every(600, 2399)).toEqual([0, 600, 1200, 1800])
  expect(fitting({ ...draftOf('bath', 'mm'), first: 200, spacing: 400, width: 2400 })).toBe(6)
})
