import type { Finding } from '../../bridge/generated/Finding'
import type { FindingsView } from '../../bridge/generated/FindingsView'
import type { Profile } from '../../bridge/generated/Profile'
import type { RoomPage } from '../../router'
import { words } from '../../words'
import type { Naming } from './naming'
import { partOf } from '../another/place'
import { placeOf } from './say'

/** One thing to do, and the finding that asks for it. */
export interface Todo {
  text: string
  finding: Finding
  /** Where it is done, if not on the floor. */
  page?: RoomPage
  part?: string
}

/** More readings to take again than this are told by their joists. */
const MOST = 4

/** What to do before any height is chosen, in the order it is done. */
export function todos(view: FindingsView, naming: Naming): Todo[] {
  const of = (kind: Finding['kind']) => view.findings.filter((finding) => finding.kind === kind)
  const say = words().findings.todo
  const task = (text: (finding: Finding) => string) => (finding: Finding) => ({ text: text(finding), finding })
  return [
    ...of('blunder').map(task(({ subject }) => say.blunder(naming.points([subject]).join()))),
    ...of('sharp-drop')
      .filter((one, index, all) => index === all.findIndex(({ subject }) => subject === one.subject))
      .map(task((finding) => lookUnder(finding, naming))),
    ...of('sag-ratio')
      .filter(({ verdict }) => verdict !== 'within')
      .map(task(({ subject }) => say.engineer(subject))),
    ...of('not-looked-at').map((finding) => ({ text: say.notLooked, finding, page: 'structure' as const })),
    ...of('governs').map((finding) => ({
      ...task((finding) => governs(finding, view.profiles, naming))(finding),
      ...seeking(finding, view, naming),
    })),
    ...retake(view, naming),
  ]
}

/** By the wall where the stations begin, or between which stations. */
function lookUnder({ subject, place }: Finding, naming: Naming): string {
  const say = words().findings.todo
  const ends = place.line?.map(naming.along).sort((a, b) => a - b)
  if (!ends || ends[0]! < 1) return say.lookUnder(subject, naming.stationWall)
  return say.lookUnderFrom(subject, naming.bare(ends[0]!), naming.far(ends[1]!))
}

/** Where the high point is sought: its own screen. */
function seeking({ subject, place }: Finding, { survey }: FindingsView, naming: Naming): Partial<Todo> {
  if (!place.line || !naming.isJoist(subject)) return {}
  const [from, to] = place.line.map(naming.along)
  return { page: 'another', part: partOf({ survey, joist: subject, from: from!, to: to! }) }
}

/** The readings on both sides of the governing one: its true high point may lie between them. */
function governs(finding: Finding, profiles: readonly Profile[], naming: Naming): string {
  const say = words().findings.todo
  const line = profiles.find((one) => one.along && naming.line(one) === finding.subject)
  const [from, to] = neighbours(finding, line, naming)
  return from && to ? say.governs(finding.subject, from, to) : say.governsPoint(finding.subject)
}

function neighbours(finding: Finding, line: Profile | undefined, naming: Naming): [string?, string?] {
  if (finding.place.line) {
    const [from, to] = finding.place.line.map(naming.along)
    return [naming.bare(from!), naming.far(to!)]
  }
  const place = placeOf(finding)
  if (!line || !place) return []
  const along = naming.along(place)
  const s = line.points.map((point) => point.s)
  const at = s.findIndex((one) => Math.abs(one - along) < 1)
  if (at < 0) return []
  return [naming.bare(s[Math.max(0, at - 1)]!), naming.far(s[Math.min(s.length - 1, at + 1)]!)]
}

/** The points to take again for findings that are too close to call, each once, as one thing to do. */
function retake(view: FindingsView, naming: Naming): Todo[] {
  // Runs too short to be decided name their doubtful readings in their own row.
  const close = view.findings.filter(
    ({ verdict, kind }) => verdict === 'too-close-to-call' && kind !== 'governs' && kind !== 'fall-short',
  )
  const points = [...new Set(close.flatMap((finding) => finding.retake))]
  const finding = close.find((one) => one.retake.length)
  if (!finding) return []
  const say = words().findings.todo
  const text = points.length <= MOST ? say.retake(naming.points(points)) : say.retakeMany(subjects(close, view, naming))
  return [{ text, finding }]
}

/** The joists and lines that findings are about, each once. */
function subjects(findings: readonly Finding[], view: FindingsView, naming: Naming): string[] {
  const lines = new Map(view.profiles.map((line) => [line.name, naming.line(line)]))
  return [...new Set(findings.map(({ subject }) => lines.get(subject) ?? subject))].sort((a, b) =>
    a.localeCompare(b, undefined, { numeric: true }),
  )
}
