import { savedByPhone } from '../../bridge/bridge'

/** How long a browser may take to fetch what it was handed, ms. */
const FETCHED = 60_000

/** The bytes that travelled in base 64. */
export function ofBase64(base64: string, type: string): Blob {
  return new Blob([Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))], { type })
}

/** Whether the device can hand a file of this kind to another program. */
export function canShare(blob: Blob, name: string): boolean {
  return navigator.canShare?.({ files: [new File([blob], name, { type: blob.type })] }) ?? false
}

/** Hands a file to whatever program the person chooses; to change one's mind is no mistake. */
export async function share(blob: Blob, name: string): Promise<void> {
  try {
    await navigator.share({ files: [new File([blob], name, { type: blob.type })], title: name })
  } catch (thrown) {
    if (!(thrown instanceof DOMException && thrown.name === 'AbortError')) throw thrown
  }
}

/** Hands a file to the phone's own sheet, else to the browser, which asks or knows where it goes. */
export async function save(blob: Blob, name: string): Promise<void> {
  if (!(await savedByPhone(blob, name))) download(blob, name)
}

function download(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob)
  const link = Object.assign(document.createElement('a'), { href: url, download: name, hidden: true })
  // Some browsers follow only links that stand on the page, and fetch the file later than they say.
  document.body.append(link)
  link.click()
  link.remove()
  setTimeout(() => URL.revokeObjectURL(url), FETCHED)
}
