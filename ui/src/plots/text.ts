export interface Piece {
  text: string
  /** Part of a fraction: raised above the bar, lowered below it, or the bar itself. */
  part?: 'over' | 'bar' | 'under'
}

/** The size of a fraction's figures beside the text they stand in. */
export const PART = 0.74

/** Text cut where fractions begin and end: `43-7/8 in` is `43`, `7` over `8`, ` in`. */
export function pieces(text: string): Piece[] {
  const cut: Piece[] = []
  let end = 0
  for (const found of text.matchAll(/(\d*)-?\b(\d+)\/(\d+)/g)) {
    const [all, whole = '', over = '', under = ''] = found
    const before = text.slice(end, found.index) + whole
    if (before) cut.push({ text: before })
    cut.push({ text: over, part: 'over' }, { text: '⁄', part: 'bar' }, { text: under, part: 'under' })
    end = found.index + all.length
  }
  if (end < text.length) cut.push({ text: text.slice(end) })
  return cut
}

/** About how wide text is when set in `size` px, a little too wide rather than too narrow. */
export function widthOf(text: string, size: number): number {
  return pieces(text).reduce((sum, piece) => sum + pieceWidth(piece, size), 0)
}

function pieceWidth({ text, part }: Piece, size: number): number {
  if (part === 'bar') return 0.5 * size
  const each = part ? 0.64 * PART : 0.6
  return text.length * each * size
}
