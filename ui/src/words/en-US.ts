import { devices } from './en-US/devices'
import { another, chalk, checks, compare, method, moved } from './en-US/checks'
import { findings, map, profile } from './en-US/findings'
import { approvals, cutList, forbids, height, why } from './en-US/height'
import { plan } from './en-US/plan'
import { readings } from './en-US/readings'
import { history, newRoom, record, room, rooms, rules, settings, structure } from './en-US/rooms'
import * as shared from './en-US/shared'
import { straightedge } from './en-US/straightedge'

/** English as it is spoken on sites in the United States. */
export const enUS = {
  ...shared,
  rooms,
  newRoom,
  room,
  plan,
  structure,
  readings,
  devices,
  record,
  history,
  rules,
  settings,
  findings,
  map,
  profile,
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
}
