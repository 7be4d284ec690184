import { beforeEach, expect, test, vi } from 'vitest'

/** The browser's storage, and the module as a page that was just loaded has it. */
async function loaded(stored: Map<string, string>) {
  vi.resetModules()
  vi.stubGlobal('localStorage', {
    getItem: (key: string) => stored.get(key) ?? null,
    setItem: (key: string, text: string) => void stored.set(key, text),
    removeItem: (key: string) => void stored.delete(key),
  })
  return import('./aside')
}

const stored = new Map<string, string>()
beforeEach(() => stored.clear())

test('what was left is there again, in this page and in the next', async () => {
  const before = await loaded(stored)
  before.leaveAt('room a name', { name: 'Hall bath' })
  expect(before.leftAt('room a name')).toEqual({ name: 'Hall bath' })
  const after = await loaded(stored)
  expect(after.leftAt('room a name')).toEqual({ name: 'Hall bath' })
  expect(after.leftAt('room b name')).toBeUndefined()
})

test('what is to stay in memory is not stored', async () => {
  const before = await loaded(stored)
  before.leaveAt('room a person', { name: 'R. Example', role: 'tiler' }, { role: 'tiler' })
  expect(before.leftAt('room a person')).toEqual({ name: 'R. Example', role: 'tiler' })
  expect([...stored.values()].join()).not.toContain('Example')
  expect((await loaded(stored)).leftAt('room a person')).toEqual({ role: 'tiler' })
})

test('what was kept or dropped is nowhere', async () => {
  const before = await loaded(stored)
  before.leaveAt('room a note', { text: 'valve' })
  before.leaveAt('room a note', undefined)
  expect(before.leftAt('room a note')).toBeUndefined()
  expect(stored.size).toBe(0)
})

test('a browser that keeps nothing, or something else, still holds it in memory', async () => {
  stored.set('truefall-left-1 room a note', 'no json')
  const aside = await loaded(stored)
  expect(aside.leftAt('room a note')).toBeUndefined()
  vi.stubGlobal('localStorage', undefined)
  aside.leaveAt('room a note', { text: 'valve' })
  expect(aside.leftAt('room a note')).toEqual({ text: 'valve' })
})
