import { findings, map, profile } from './en-AU/findings'
import { cutList, height, why } from './en-AU/height'
import { plan, readings } from './en-AU/readings'
import { newRoom, rooms, rules, settings, structure } from './en-AU/rooms'
import { unitNames } from './en-AU/shared'
import { sheet, terms } from './en-AU/site'
import { cutting, drain, fall, ledges, pour, tiles } from './en-AU/works'
import { enUS } from './en-US'

/** English as it is spoken on sites in the United Kingdom, Australia and New Zealand. */
export const enAU: typeof enUS = {
  ...enUS,
  unitNames,
  rooms,
  newRoom,
  plan,
  structure,
  readings,
  rules,
  settings,
  findings,
  map,
  profile,
  height,
  why,
  cutList,
  sheet,
  terms,
  pour,
  fall,
  drain,
  cutting,
  ledges,
  tiles,
}
