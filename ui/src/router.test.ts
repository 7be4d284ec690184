import { expect, test } from 'vitest'
import { hashOf, routeOf, type Route } from './router'

const there: [string, Route][] = [
  ['#/', { page: 'rooms' }],
  ['#/new', { page: 'new' }],
  ['#/settings', { page: 'settings' }],
  ['#/rooms/abc', { page: 'room', room: 'abc' }],
  ['#/rooms/abc/findings', { page: 'findings', room: 'abc' }],
  ['#/rooms/abc/readings/joists', { page: 'readings', room: 'abc', part: 'joists' }],
  ['#/rooms/a%2Fb%20c/cut-list', { page: 'cut-list', room: 'a/b c' }],
]

test.each(there)('%s leads there and back', (hash, route) => {
  expect(routeOf(hash)).toEqual(route)
  expect(hashOf(route)).toBe(hash)
})

test.each(['', '#', '#/nowhere', '#/rooms', '#/rooms/', '#/rooms/abc/nothing', '#/rooms/%zz'])(
  '%s leads to the rooms',
  (hash) => expect(routeOf(hash)).toEqual({ page: 'rooms' }),
)
