import { another, chalk, checks, compare, method, moved } from './en-US/checks'
import { buildUp } from './en-US/build-up'
import { crew } from './en-US/crew'
import { devices } from './en-US/devices'
import { findings, map, profile, solid } from './en-US/findings'
import { approvals, cutList, forbids, height, why } from './en-US/height'
import { plan } from './en-US/plan'
import { readings } from './en-US/readings'
import { backups, behind, entry, incoming, recover, sheets, tests } from './en-US/record'
import { history, newRoom, record, room, rooms, rules, settings, structure } from './en-US/rooms'
import * as shared from './en-US/shared'
import { call, practice, sheet, terms } from './en-US/site'
import { straightedge } from './en-US/straightedge'
import { tilt } from './en-US/tilt'
import { atTheDoor, cutting, drain, fall, keep, ledges, plainUnit, pour, stiffness, tiles } from './en-US/works'

/** English as it is spoken on sites in the United States. */
export const enUS = {
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
