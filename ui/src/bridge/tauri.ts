import type { Bridge } from './bridge'
import type { Changes } from './generated/Changes'
import { refusedBy } from './refused'

/** Whether the page runs in the program's own window. */
export function inWindow(): boolean {
  return '__TAURI_INTERNALS__' in globalThis
}

/** Whether that window fills a phone. */
export function onPhone(): boolean {
  return inWindow() && /android|iphone|ipad/i.test(navigator.userAgent)
}

/** Saves a file by the phone's own sheet, and says whether it could: elsewhere the browser is handed it. */
export async function savedByPhone(blob: Blob, name: string): Promise<boolean> {
  if (!onPhone()) return false
  const [{ save }, { writeFile }] = await Promise.all([
    import('@tauri-apps/plugin-dialog'),
    import('@tauri-apps/plugin-fs'),
  ])
  const path = await save({ defaultPath: name })
  // To change one's mind is no mistake.
  if (path) await writeFile(path, new Uint8Array(await blob.arrayBuffer()))
  return true
}

/** A file, or a picture, chosen on the phone's own sheet; nothing where nobody chose one. */
export async function pickedByPhone(picture: boolean): Promise<File | undefined> {
  const [{ open }, { readFile }] = await Promise.all([
    import('@tauri-apps/plugin-dialog'),
    import('@tauri-apps/plugin-fs'),
  ])
  const path = await open({ pickerMode: picture ? 'image' : 'document' })
  if (!path) return undefined
  return new File([await readFile(path)], decodeURIComponent(path).split('/').at(-1) ?? '')
}

/** Lets the device be felt for so many milliseconds, where it has a motor. */
export async function buzz(milliseconds: number): Promise<void> {
  if (!onPhone()) return void navigator.vibrate?.(milliseconds)
  const { vibrate } = await import('@tauri-apps/plugin-haptics')
  await vibrate(milliseconds)
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
