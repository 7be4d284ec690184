import { expect, test } from 'vitest'
import type { Bridge } from './bridge'
import { newId } from './id'
import { Refused, refusedBy } from './refused'
import { undo, write } from './write'

/** A bridge that answers with each of these in turn, and keeps what it was asked. */
function answering(...answers: (object | Error)[]) {
  const heard: { name: string; body: unknown }[] = []
  const ask = async (name: string, body: unknown) => {
    heard.push({ name, body })
    const answer = answers.shift()
    if (answer instanceof Error) throw answer
    return answer
  }
  return { bridge: { ask, onChange: () => () => {} } as Bridge, heard }
}

const broken = new Refused({ kind: 'no-link', message: '' })
const written = { id: 'x', seq: 1, repeat: false }

test('a write that finds no link is sent again with the same id', async () => {
  const { bridge, heard } = answering(broken, broken, written)
  expect(await write('r', 'room-rename', { name: 'Bath' }, undefined, bridge)).toEqual(written)
  expect(heard).toHaveLength(3)
  expect(new Set(heard.map(({ body }) => JSON.stringify(body))).size).toBe(1)
  expect(heard[0]!.body).toMatchObject({ room: 'r', command: 'room-rename', payload: '{"name":"Bath"}' })
})

test('a write the core refuses is not sent again', async () => {
  const { bridge, heard } = answering(new Refused({ kind: 'not-found', message: 'no such room' }), written)
  await expect(write('r', 'room-rename', { name: 'Bath' }, undefined, bridge)).rejects.toThrow('no such room')
  expect(heard).toHaveLength(1)
})

test('after three tries the link is reported', async () => {
  const { bridge, heard } = answering(broken, broken, broken, written)
  await expect(undo('r', undefined, bridge)).rejects.toMatchObject({ kind: 'no-link' })
  expect(heard).toHaveLength(3)
})

test('whatever is thrown is a refusal with a kind', () => {
  expect(refusedBy('{"kind":"locked","message":"in use"}')).toMatchObject({ kind: 'locked', message: 'in use' })
  expect(refusedBy({ kind: 'full', message: 'no space', retry: true })).toMatchObject({ kind: 'full', retry: true })
  expect(refusedBy(new TypeError('failed'))).toMatchObject({ kind: 'no-link', retry: true })
  expect(refusedBy('not json')).toMatchObject({ kind: 'no-link' })
})

test('an id is a UUID of version 7 that sorts by its time', () => {
  // The example of RFC 9562, appendix A.6.
  const chance = Uint8Array.from([0x0c, 0xc3, 0x18, 0xc4, 0xdc, 0x0c, 0x0c, 0x07, 0x39, 0x8f])
  expect(newId(0x017f22e279b0, chance)).toBe('017f22e2-79b0-7cc3-98c4-dc0c0c07398f')
  expect(newId(1) < newId(2)).toBe(true)
  expect(newId()).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/)
  expect(newId()).not.toBe(newId())
})
