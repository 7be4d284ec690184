import { expect, test } from 'vitest'
import { Refused } from '../bridge/refused'
import { Doing } from './doing.svelte'

test('quick changes are done one after the other, none is lost', async () => {
  const doing = new Doing()
  const seen: string[] = []
  const change = (name: string) => async () => {
    seen.push(`${name} begins`)
    await Promise.resolve()
    seen.push(`${name} ends`)
  }
  const all = [doing.run(change('a')), doing.run(change('b')), doing.run(change('c'))]
  expect(doing.busy).toBe(true)
  expect(await Promise.all(all)).toEqual([true, true, true])
  expect(seen).toEqual(['a begins', 'a ends', 'b begins', 'b ends', 'c begins', 'c ends'])
  expect(doing.busy).toBe(false)
})

test('a refused change is said and does not keep the next from being done', async () => {
  const doing = new Doing()
  const refused = doing.run(() => Promise.reject(new Refused({ kind: 'locked', message: 'in use' })))
  expect(await refused).toBe(false)
  expect(doing.refused?.message).toBe('in use')
  expect(await doing.run(async () => {})).toBe(true)
  expect(doing.refused).toBeUndefined()
})
