import type { Figure } from '../../bridge/generated/Figure'
import type { JoistWork } from '../../bridge/generated/JoistWork'

/** Stations this close, in mm, are one figure. */
const SAME = 1
/** Less than this, in mm, is nothing. */
const LEAST = 1e-3

/** A piece as it is drawn: thickness over the joist at each station, negative for wood taken off. */
export interface Piece {
  kind: 'strip' | 'cut' | 'low'
  figures: Figure[]
}

/** The pieces of one joist from the first station on: strips, cuts, and the height a sister has to make up. */
export function pieces(work: JoistWork, stations: readonly number[]): Piece[] {
  const strips: Piece[] = work.strips.map(({ figures }) => ({ kind: 'strip', figures: apart(figures) }))
  const low = work.action === 'sister' ? runs(stations, work.lifts, 1).map(piece('low')) : []
  const isCut = work.cuts.some((cut) => (cut ?? 0) > 0)
  const cuts = isCut ? runs(stations, work.lifts, -1).map(piece('cut')) : []
  return [...strips, ...low, ...cuts].sort((a, b) => (a.figures[0]?.station ?? 0) - (b.figures[0]?.station ?? 0))
}

const piece =
  (kind: Piece['kind']) =>
  (figures: Figure[]): Piece => ({ kind, figures })

/** Figures without those that fall on the one before them. */
function apart(figures: readonly Figure[]): Figure[] {
  return figures.filter((figure, index) => index === 0 || figure.station - figures[index - 1]!.station > SAME)
}

/** The stretches on one side of the target, each from where it leaves it to where it meets it again. */
function runs(stations: readonly number[], lifts: readonly (number | null)[], side: 1 | -1): Figure[][] {
  const all: Figure[][] = []
  let open: Figure[] | undefined
  stations.forEach((station, index) => {
    const [lift, before] = [lifts[index] ?? undefined, lifts[index - 1] ?? undefined]
    if (lift === undefined) {
      open = undefined
      return
    }
    const meets = before !== undefined && [crossing(stations[index - 1]!, before, station, lift)]
    if (lift * side > LEAST) {
      if (!open) all.push((open = meets || []))
      open.push({ station, thickness: lift })
    } else if (open) {
      open.push(...(meets || []))
      open = undefined
    }
  })
  return all.map(apart)
}

/** Where the straight line between two readings meets the target. */
function crossing(from: number, before: number, to: number, lift: number): Figure {
  const share = before === lift ? 1 : before / (before - lift)
  return { station: from + (to - from) * Math.min(Math.max(share, 0), 1), thickness: 0 }
}
