import type { enUS } from './en-US'
import { another, chalk, checks, compare, method, moved } from './es/checks'
import { buildUp } from './es/build-up'
import { crew } from './es/crew'
import { devices } from './es/devices'
import { findings, map, profile, solid } from './es/findings'
import { approvals, cutList, forbids, height, why } from './es/height'
import { plan } from './es/plan'
import { readings } from './es/readings'
import { backups, behind, entry, incoming, recover, sheets, tests } from './es/record'
import { history, newRoom, record, room, rooms, rules, settings, structure } from './es/rooms'
import * as shared from './es/shared'
import { call, practice, sheet, terms } from './es/site'
import { straightedge } from './es/straightedge'
import { tilt } from './es/tilt'
import { atTheDoor, cutting, drain, fall, keep, ledges, plainUnit, pour, stiffness, tiles } from './es/works'

/** El español de la obra, como se habla en América. */
export const es: typeof enUS = {
  ...shared,
  rooms,
  newRoom,
  room,
  plan,
  structure,
  crew,
  readings,
  devices,
  buildUp,
  plainUnit,
  keep,
  pour,
  fall,
  drain,
  cutting,
  ledges,
  tiles,
  atTheDoor,
  stiffness,
  record,
  incoming,
  backups,
  recover,
  behind,
  sheets,
  entry,
  tests,
  history,
  rules,
  settings,
  findings,
  map,
  profile,
  solid,
  height,
  why,
  forbids,
  approvals,
  cutList,
  straightedge,
  another,
  chalk,
  compare,
  checks,
  method,
  moved,
  call,
  practice,
  sheet,
  terms,
  tilt,
}
