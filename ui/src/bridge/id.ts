/** A new identity that sorts by the time it was made: a UUID of version 7 (RFC 9562 §5.7). */
export function newId(
  now: number = Date.now(),
  chance: Uint8Array = crypto.getRandomValues(new Uint8Array(10)),
): string {
  const bytes = new Uint8Array(16)
  new DataView(bytes.buffer).setUint32(0, Math.floor(now / 0x10000))
  new DataView(bytes.buffer).setUint16(4, now % 0x10000)
  bytes.set(chance, 6)
  bytes[6] = 0x70 | (bytes[6]! & 0x0f)
  bytes[8] = 0x80 | (bytes[8]! & 0x3f)
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}
