import type { Bridge } from './bridge'
import type { Changes } from './generated/Changes'
import { refusedBy } from './refused'

/** Whether the page runs in the program's own window. */
export function inWindow(): boolean {
  return '__TAURI_INTERNALS__' in globalThis
}

/** The core in the same process, by one command and one event. */
export function tauriBridge(): Bridge {
  return {
    async ask(name, body) {
      const { invoke } = await import('@tauri-apps/api/core')
      try {
        return JSON.parse(await invoke<string>('dispatch', { name, payload: JSON.stringify(body) }))
      } catch (thrown) {
        throw refusedBy(thrown)
      }
    },
    onChange(listener) {
      const heard = import('@tauri-apps/api/event').then(({ listen }) =>
        listen<Changes | string>('changes', ({ payload }) =>
          listener(typeof payload === 'string' ? JSON.parse(payload) : payload),
        ),
      )
      return () => void heard.then((stop) => stop())
    },
  }
}
