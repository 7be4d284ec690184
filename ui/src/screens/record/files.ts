/** The bytes that travelled in base 64. */
export function ofBase64(base64: string, type: string): Blob {
  return new Blob([Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))], { type })
}

/** Hands a file to the browser, which asks or knows where it goes. */
export function save(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob)
  const link = Object.assign(document.createElement('a'), { href: url, download: name })
  link.click()
  URL.revokeObjectURL(url)
}
