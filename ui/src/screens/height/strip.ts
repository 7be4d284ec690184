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
    const lift = lifts[index] ?? 0
    const before = lifts[index - 1] ?? 0
    const crossing = { station: crossed(stations[index - 1] ?? station, before, station, lift), thickness: 0 }
    if (lift * side > LEAST) {
      if (!open) all.push((open = index > 0 ? [crossing] : []))
      open.push({ station, thickness: lift })
    } else if (open) {
      open.push(crossing)
      open = undefined
    }
  })
  return all.map(apart)
}

/** Where a straight line between two readings meets the target. */
function crossed(from: number, before: number, to: number, lift: number): number {
  return before === lift ? to : from + ((to - from) * before) / (before - lift)
}
