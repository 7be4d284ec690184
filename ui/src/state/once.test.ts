import { expect, test } from 'vitest'
import { Once } from './once'

test('the same question is asked once while it is under way, and again afterwards', async () => {
  const once = new Once<number>()
  let asked = 0
  const ask = async () => (asked += 1)
  expect(await Promise.all([once.of('44', ask), once.of('44', ask)])).toEqual([1, 1])
  expect(await once.of('44', ask)).toBe(2)
})

test('another question does not wait, and a refusal is no answer for later', async () => {
  const once = new Once<number>()
  const refuse = () => Promise.reject(new Error('no link'))
  const [one, other] = [once.of('44', refuse), once.of('45', async () => 45)]
  await expect(one).rejects.toThrow('no link')
  expect(await other).toBe(45)
  await expect(once.of('46', refuse)).rejects.toThrow('no link')
  expect(await once.of('46', async () => 46)).toBe(46)
})
