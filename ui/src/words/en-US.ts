import { devices } from './en-US/devices'
import { findings, map, profile } from './en-US/findings'
import { cutList, height } from './en-US/height'
import { plan } from './en-US/plan'
import { readings } from './en-US/readings'
import { history, newRoom, record, room, rooms, rules, settings, structure } from './en-US/rooms'
import * as shared from './en-US/shared'

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
  cutList,
}
