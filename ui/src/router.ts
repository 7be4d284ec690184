/** The pages of a room, as they stand in the address. */
export const roomPages = [
  'room',
  'plan',
  'structure',
  'readings',
  'findings',
  'height',
  'cut-list',
  'approvals',
  'build-up',
  'pour',
  'fall',
  'drain',
  'cutting',
  'ledges',
  'tiles',
  'straightedge',
  'tilt',
  'another',
  'chalk',
  'compare',
  'checks',
  'sheet',
  'solid',
  'tests',
  'behind',
  'record',
  'history',
  'rules',
  'devices',
  'display',
] as const
export type RoomPage = (typeof roomPages)[number]

/** The pages of no room. */
const plainPages = ['new', 'settings', 'devices', 'terms', 'backups', 'crew', 'join'] as const
type PlainPage = (typeof plainPages)[number]

/** Where one is. Pages of a room name it; a survey or an alternative may follow. */
export type Route = { page: 'rooms' | PlainPage } | { page: RoomPage; room: string; part?: string }

/** The route that an address fragment names; anything unknown leads to the rooms. */
export function routeOf(hash: string): Route {
  const [first = '', room, page = 'room', part] = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .map(decoded)
  if (isPlainPage(first)) return { page: first }
  if (first !== 'rooms' || !room || !isRoomPage(page)) return { page: 'rooms' }
  return part ? { page, room, part } : { page, room }
}

/** The address fragment of a route. */
export function hashOf(route: Route): string {
  if (!('room' in route)) return route.page === 'rooms' ? '#/' : `#/${route.page}`
  const path = ['rooms', route.room]
  if (route.page !== 'room' || route.part) path.push(route.page)
  if (route.part) path.push(route.part)
  return `#/${path.map(encodeURIComponent).join('/')}`
}

/** Goes there; the way back is kept. */
export function go(route: Route): void {
  location.hash = hashOf(route)
}

/** Goes there instead: the way back skips the page one is on. */
export function goInstead(route: Route): void {
  location.replace(hashOf(route))
}

function isPlainPage(page: string): page is PlainPage {
  return (plainPages as readonly string[]).includes(page)
}

function isRoomPage(page: string): page is RoomPage {
  return (roomPages as readonly string[]).includes(page)
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return ''
  }
}
