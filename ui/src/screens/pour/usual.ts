import type { Pour } from '../../bridge/generated/Pour'
import type { RoomView } from '../../bridge/generated/RoomView'
import { INCH } from '../../units'

/** A pour to begin with: compound where a deck was read, else a bed; a tenth for waste (common practice). */
export function usual({ room, plan, surveys }: RoomView): Pour {
  const deck = surveys.some(({ surface }) => surface !== 'framing')
  const inch = room.units === 'in'
  if (deck || !plan?.drain) return { kind: 'compound', product: '', over: inch ? INCH / 8 : 3, waste: 0.1 }
  const bed = { over: inch ? 1.25 * INCH : 32, rise: inch ? 0.75 * INCH : 20 }
  return { kind: 'bed', product: '', ...bed, waste: 0.1 }
}
