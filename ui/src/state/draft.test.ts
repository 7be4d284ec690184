import { expect, test } from 'vitest'
import { INCH } from '../units'
import {
  cornered,
  draftFrom,
  draftOf,
  every,
  fitting,
  fixtureOf,
  planOf,
  resized,
  taken,
  widest,
  wrongIn,
} from './draft'

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

test.each(['bath', 'ell', 'alcove', 'floor'] as const)('the plan of %s is read back as the same draft', (template) => {
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

test('an L has six corners, and nothing is read where its corner is taken out', () => {
  const draft = { ...draftOf('ell', 'mm'), reads: 'both' as const }
  const plan = planOf(draft, 'mm')
  expect(plan.outline).toEqual([
    [0, 0],
    [2400, 0],
    [2400, 1500],
    [1500, 1500],
    [1500, 2400],
    [0, 2400],
  ])
  expect(plan.points.filter(({ x, y }) => x > 1500 && y > 1500)).toEqual([])
  expect(plan.points.some(({ x, y }) => x > 1500 && y <= 1500)).toBe(true)
})

test('a fall to a point drain is read from the drain over a ring to the walls, and no step is long', () => {
  const draft = { ...draftOf('alcove', 'in'), reads: 'fall' as const }
  const { points, drain, entry, surveys } = planOf(draft, 'in')
  expect(surveys.map(({ surface }) => surface)).toEqual(['fall'])
  expect(points.map(({ id }) => id).join(' ')).toBe('D R1 R2 R3 R4 R5 R6 R7 R8 W8 W1 W2 W3 W4 W5 W6 W7')
  expect([drain?.from.map(inches), entry?.map((end) => end.map(inches))]).toEqual([
    [30, 18],
    [
      [0, 36],
      [60, 36],
    ],
  ])
  const steps = points.slice(1).map(({ x, y }, k) => Math.hypot(x - points[k]!.x, y - points[k]!.y))
  expect(inches(Math.max(...steps))).toBeLessThanOrEqual(30)
})

test('a linear drain is read on a close grid', () => {
  const { points, drain } = planOf(
    { ...draftOf('alcove', 'mm'), reads: 'fall' as const, drain: 'line', drainY: 0 },
    'mm',
  )
  expect(drain).toEqual({ from: [0, 0], to: [1500, 0] })
  expect(points).toHaveLength(24)
})

test('a drain outside the walls is said', () => {
  expect(wrongIn({ ...draftOf('alcove', 'mm'), drainX: 2000 }, 17)).toMatch(/drain lies outside/)
})

test('nothing is read under what stands on the floor, but at its free edge, and what was read stays', () => {
  const floor = draftOf('floor', 'mm')
  const tub = fixtureOf('tub', floor, 'mm')
  expect(tub).toEqual({ kind: 'tub', from: [0, 1640], to: [1500, 2400] })
  const draft = { ...floor, fixtures: [tub] }
  expect(taken(draft, 0, 2400)).toBe(true)
  expect(taken(draft, 1500, 2000)).toBe(false)
  expect(taken(draft, 600, 1640)).toBe(false)
  const all = planOf(floor, 'mm').points.map(({ id }) => id)
  const { points, fixtures } = planOf(draft, 'mm')
  expect(fixtures).toEqual([tub])
  expect(all.filter((id) => !points.some((point) => point.id === id)).sort()).toEqual([
    'A4',
    'A5',
    'B4',
    'B5',
    'C4',
    'C5',
  ])
  expect(planOf(draft, 'mm', new Set(['B5'])).points.some(({ id }) => id === 'B5')).toBe(true)
  expect(planOf(draftFrom(planOf(draft, 'mm'), 'mm'), 'mm').fixtures).toEqual([tub])
})

test('a fixture is no larger than the room, and one without a size is said', () => {
  const draft = draftOf('alcove', 'in')
  expect(fixtureOf('tub', { ...draft, width: 40 * INCH }, 'in').to.map(inches)).toEqual([40, 36])
  expect(wrongIn({ ...draft, fixtures: [{ kind: 'other', from: [10, 10], to: [10, 50] }] }, 17)).toMatch(/width/)
})

test('how far apart points lie is told of what should be flat', () => {
  const draft = draftOf('bath', 'mm')
  expect(widest(draft)).toBe(600)
  expect(widest({ ...draft, stations: [0, 500, 2000] })).toBe(1500)
  expect(widest({ ...draft, reads: 'floor', grid: 300 })).toBe(300)
  expect(widest({ ...draft, reads: 'fall' })).toBeUndefined()
})

test('a drawn room is as large as its corners reach, and its plan is read back as it is', () => {
  const corners: [number, number][] = [
    [1000, 0],
    [2000, 0],
    [2000, 1500],
    [3000, 1500],
    [3000, 2400],
    [0, 2400],
    [0, 1500],
    [1000, 1500],
  ]
  const drawn = cornered({ ...draftOf('floor', 'mm'), door: false }, corners)
  expect([drawn.width, drawn.depth]).toEqual([3000, 2400])
  const draft = {
    ...drawn,
    drain: 'point' as const,
    drainX: 1500,
    drainY: 300,
    second: [2500, 2000] as [number, number],
  }
  const plan = planOf({ ...draft, entry: { side: 4, from: 300, to: 1200 } }, 'mm')
  expect(plan.points.some(({ x, y }) => x < 1000 && y < 1500)).toBe(false)
  expect([plan.second_drain, plan.entry]).toEqual([
    { from: [2500, 2000] },
    [
      [1800, 2400],
      [2700, 2400],
    ],
  ])
  expect(planOf(draftFrom(plan, 'mm'), 'mm')).toEqual(plan)
  expect(wrongIn({ ...draft, drainX: 500 }, 20)).toMatch(/drain/)
  expect(wrongIn({ ...draft, second: [500, 500] }, 20)).toMatch(/drain/)
  expect(wrongIn(cornered(draft, [...corners].reverse().slice(0, 2)), 20)).toMatch(/no room/)
})

test('a linear drain runs along either wall', () => {
  const draft = { ...draftOf('alcove', 'mm'), reads: 'fall' as const, drain: 'line' as const, drainX: 60, drainY: 80 }
  expect(planOf(draft, 'mm').drain).toEqual({ from: [0, 80], to: [1500, 80] })
  const across = planOf({ ...draft, drainAlong: 'y' }, 'mm')
  expect(across.drain).toEqual({ from: [60, 0], to: [60, 900] })
  expect(planOf(draftFrom(across, 'mm'), 'mm').drain).toEqual(across.drain)
  const ell = { ...draftOf('ell', 'mm'), drain: 'line' as const, drainY: 2000 }
  expect(planOf(ell, 'mm').drain).toEqual({ from: [0, 2000], to: [1500, 2000] })
  expect(planOf({ ...ell, drainY: 2400 }, 'mm').drain).toEqual({ from: [0, 2400], to: [1500, 2400] })
  expect(wrongIn({ ...ell, drainY: 2500 }, 20)).toMatch(/drain/)
})

test('a length typed in another unit, or a joist behind the wall, is named before anything is drawn of it', () => {
  const draft = draftOf('bath', 'mm')
  const huge = resized(draft, { width: 999_999_999 })
  expect(planOf(huge, 'mm').joists).toHaveLength(60)
  expect(wrongIn(huge, 30)).toMatch(/another unit/)
  expect(wrongIn(resized(draft, { depth: 96 }), 30)).toMatch(/another unit/)
  expect(wrongIn(resized(draft, { width: 0 }), 30)).toMatch(/another unit/)
  expect(fitting({ ...draft, first: -999_999_999 })).toBe(60)
  expect(wrongIn({ ...draft, first: -50, count: 2 }, 30)).toMatch(/joists fit/)
})

test('a joist without a span, two walls of one name and a doorway beside its wall are named', () => {
  const draft = draftOf('bath', 'mm')
  expect(wrongIn({ ...draft, span: 0 }, 30)).toMatch(/span/)
  expect(wrongIn({ ...draft, sideWall: ` ${draft.baseWall}` }, 30)).toMatch(/same name/)
  expect(wrongIn({ ...draft, baseWall: 'A', sideWall: 'B' }, 30)).toBeUndefined()
  expect(wrongIn({ ...draft, doorTo: 9999 }, 30)).toMatch(/doorway/)
  expect(wrongIn({ ...draft, doorFrom: 1200, doorTo: 300 }, 30)).toMatch(/doorway/)
})
