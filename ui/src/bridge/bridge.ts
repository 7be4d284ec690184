import type { Changes } from './generated/Changes'
import type { Requests } from './generated/Requests'
import { CrewBridge } from './crew'
import { httpBridge } from './http'
import { inWindow, tauriBridge } from './tauri'

export { buzz, inWindow, onPhone, pickedByPhone, savedByPhone } from './tauri'

export type Asked<K extends keyof Requests> = Requests[K][0]
export type Answered<K extends keyof Requests> = Requests[K][1]

/** The one way from the screens to the core. A request that is not granted rejects with a `Refused`. */
export interface Bridge {
  ask<K extends keyof Requests>(name: K, body: Asked<K>): Promise<Answered<K>>
  /** Tells the listener of every change, with no room where any may have changed; the answer stops that. */
  onChange(listener: (changes: Changes) => void): () => void
}

/** So long a link over the air is waited for, in milliseconds. */
const PATIENCE = 6000

/** This page is on a device of the crew: only the crew's door is encrypted. */
export const crewBridge: CrewBridge | undefined =
  !inWindow() && globalThis.location?.protocol === 'https:'
    ? new CrewBridge(httpBridge(PATIENCE), localStorage)
    : undefined

/** The bridge this page runs on: the window's own, else the host that served the page. */
export const bridge: Bridge = inWindow() ? tauriBridge() : (crewBridge ?? httpBridge())
