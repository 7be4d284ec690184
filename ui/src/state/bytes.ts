/** How many bytes are turned to text at once: a call takes only so many arguments. */
const AT_ONCE = 0x6000

/** The bytes of a file in base 64. */
export async function base64Of(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer())
  const parts: string[] = []
  for (let at = 0; at < bytes.length; at += AT_ONCE) {
    // A multiple of three, so that the parts join without padding between.
    parts.push(btoa(String.fromCharCode(...bytes.subarray(at, at + AT_ONCE))))
  }
  return parts.join('')
}
