import type { Requests } from '../../bridge/generated/Requests'

/** What may be ordered of the instruments from their screen. */
export type Orders =
  | 'devices-look'
  | 'devices-switch-on'
  | 'device-use'
  | 'device-measure'
  | 'device-practice'
  | 'device-teach'
  | 'device-taught'

/** Gives one order; whether it was done. */
export type Order = <K extends Orders>(name: K, body: Requests[K][0]) => Promise<boolean>
