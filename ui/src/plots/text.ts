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

/** How wide characters of the program's own face are, for a size of one, a little too wide rather than too narrow. */
const WIDE = { figure: 0.66, bar: 0.62, point: 0.3, other: 0.58 }

/** About how wide text is when set in `size` px. */
export function widthOf(text: string, size: number): number {
  return pieces(text).reduce((sum, piece) => sum + pieceWidth(piece, size), 0)
}

function pieceWidth({ text, part }: Piece, size: number): number {
  const each = [...text].map((character) => {
    if (character === '⁄') return WIDE.bar
    if (character === '.') return WIDE.point
    return /\d/.test(character) ? WIDE.figure : WIDE.other
  })
  return each.reduce((sum, one) => sum + one, 0) * size * (part && part !== 'bar' ? PART : 1)
}
