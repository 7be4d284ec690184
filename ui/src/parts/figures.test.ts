import { expect, test } from 'vitest'
import { standing } from './figures'

const at = (id: string, x: number) => ({ id, x, y: 0, text: '28.0' })

test('figures that would cover one another give way to those before them', () => {
  expect(standing([at('a', 0), at('b', 10), at('c', 60)], 12).map(({ id }) => id)).toEqual(['a', 'c'])
  expect(standing([at('b', 10), at('a', 0)], 12).map(({ id }) => id)).toEqual(['b'])
  expect(standing([], 12)).toEqual([])
})
