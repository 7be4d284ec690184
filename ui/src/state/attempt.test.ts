import { expect, test } from 'vitest'
import { Attempt } from './attempt'

test('an entry that is sent again keeps its identities; another one, or the same after it was kept, has its own', () => {
  const attempt = new Attempt()
  const first = attempt.of('J1@0 44')
  expect(attempt.of('J1@0 44')).toEqual(first)
  const other = attempt.of('J1@30 44')
  expect(other.id).not.toBe(first.id)
  attempt.done()
  expect(attempt.of('J1@30 44').id).not.toBe(other.id)
})
