import type { Finding } from '../../bridge/generated/Finding'
import type { Profile } from '../../bridge/generated/Profile'
import type { Place } from '../../plots/frame'
import { apart, compared, distance, feet, marked, ratio, uncertainty, type Shown } from '../../units'
import { clause, words } from '../../words'
import type { Naming } from './naming'

/** The middle of what a finding is about. */
export function placeOf({ place }: Finding): Place | undefined {
  if (place.point) return place.point
  if (!place.line) return undefined
  const [from, to] = place.line
  return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
}

/** A straightedge by its length, as the trade calls it: `8 ft`, `2.4 m`. */
export function reachOf(mm: number, units: Shown): string {
  const { ft, m } = words().unit
  if (units === 'mm') return mm >= 1000 ? `${marked(`${Number((mm / 1000).toFixed(2))}`)} ${m}` : distance(mm, units)
  const whole = mm / 304.8
  return Math.abs(whole - Math.round(whole)) < 1e-3 ? `${Math.round(whole)} ${ft}` : feet(mm)
}

/** The finding as a sentence; figures stand beside it. */
export function sentence(finding: Finding, naming: Naming, profiles: readonly Profile[]): string {
  const say = words().findings.say
  const { kind, subject } = finding
  const up = (finding.value ?? 0) >= 0
  const none = Math.abs(finding.value ?? 0) < 1e-6
  const place = placeOf(finding)
  const at = place ? naming.station(place) : ''
  switch (kind) {
    case 'of-the-rest':
      return up ? say.high(subject, at) : say.low(subject, at)
    case 'crown-or-sag':
      if (none) return say.straight(subject)
      return up ? say.crown(subject, at) : say.sag(subject, at)
    case 'out-of-level':
      if (none) return say.level(subject)
      return up ? say.rises(subject) : say.falls(subject)
    case 'twist':
      return say.twist(subject, at)
    case 'sag-ratio':
      return say.sagRatio(subject, times(finding))
    case 'sharp-drop':
      return say.sharpDrop(subject, stretch(finding, naming))
    case 'straightedge-along':
    case 'straightedge-across':
      return bar(finding, naming, profiles)
    case 'straightedge-walk':
      return gauge(finding, naming)
    case 'blunder':
      return say.blunder(naming.points([subject]).join())
    case 'governs':
      return say.governs(subject)
    case 'closing':
      return finding.value === null || finding.value === undefined ? say.notClosed(subject) : say.closing(subject)
    case 'pond':
      return subject ? say.pond(naming.points([subject]).join()) : say.noPond
    case 'fall-row':
      return falls(finding, naming.row(subject), say.fallRow)
    case 'fall-run':
      return falls(finding, naming.run(subject), say.fallRun)
    case 'fall-short':
      return say.fallShort(Number(subject), distance(finding.reach ?? 0, naming.units), reachUp(finding, naming.units))
    case 'not-looked-at':
      return say.notLooked(subject)
  }
}

/** Which way it falls, and one in how much. */
function falls(finding: Finding, from: string, say: (from: string, oneIn: number) => string): string {
  const told = words().findings.say
  const rise = finding.value ?? 0
  if (Math.abs(rise) < 1e-6) return told.isLevel(from)
  return rise < 0 ? told.backward(from) : say(from, times(finding))
}

/** The shortest run that could be decided, never rounded down. */
function reachUp({ limit }: Finding, units: Shown): string {
  const step = units === 'mm' ? 10 : 25.4
  return distance(Math.ceil((limit ?? 0) / step) * step, units)
}

/** How many times the sag goes into the length it is measured over. */
function times({ value, reach }: Finding): number {
  return value && reach ? Math.round(Math.abs(reach / value)) : 0
}

/** From where to where along the joist, as `from 0 to 30 in`. */
function stretch(finding: Finding, naming: Naming): string {
  const ends = finding.place.line?.map(naming.along).sort((a, b) => a - b)
  return ends ? words().findings.say.stretch(naming.bare(ends[0]!), naming.far(ends[1]!)) : ''
}

function bar(finding: Finding, naming: Naming, profiles: readonly Profile[]): string {
  const say = words().findings.say
  const reach = reachOf(finding.reach ?? 0, naming.units)
  if (finding.value === null || finding.value === undefined) {
    const apart = spacing(profiles, finding)
    return apart ? say.cannot(distance(apart, naming.units), reach) : say.cannotAny(reach)
  }
  const line = profiles.find(({ name }) => name === finding.subject)
  const lying = line ? naming.lying(line) : finding.subject
  const place = placeOf(finding)
  return place && line?.along ? say.barAt(reach, lying, naming.station(place)) : say.bar(reach, lying)
}

/** What goes under the bar where it stands worst; where that is nothing, nothing goes under anywhere. */
function gauge({ value, reach }: Finding, naming: Naming): string {
  const say = words().findings.say
  const bar = reachOf(reach ?? 0, naming.units)
  return value ? say.gauged(bar) : say.nothingUnder(bar)
}

/** How far apart the readings lie along the lines that the finding is about, where they lie widest. */
function spacing(profiles: readonly Profile[], finding: Finding): number {
  const along = finding.kind === 'straightedge-along'
  const lines = profiles.filter((profile) => profile.along === along)
  const steps = lines.flatMap(({ points }) => points.slice(1).map((point, index) => point.s - points[index]!.s))
  return Math.max(0, ...steps)
}

/** The measured figure, always positive: the sentence says which way. */
export function value(finding: Finding, units: Shown): string | undefined {
  if (finding.value === null || finding.value === undefined) return undefined
  if (finding.kind === 'governs' || finding.kind === 'fall-short') return undefined
  const size = Math.abs(finding.value)
  return compared(size, finding.limit ?? size, units)
}

/** The uncertainty at k = 2. */
export function plusMinus(finding: Finding, units: Shown): string | undefined {
  const { kind, limit, u } = finding
  const size = Math.abs(finding.value ?? 0)
  if (u === null || u === undefined || kind === 'governs' || kind === 'fall-short') return undefined
  return uncertainty(u, apart(size, limit ?? size, units))
}

/** Whether the finding was held against something: the governing reading and the look underneath are not. */
export function isJudged({ kind }: Finding): boolean {
  return kind !== 'governs' && kind !== 'sharp-drop' && kind !== 'not-looked-at'
}

/** What the finding was held against: limit, clause, edition and where the figure comes from. */
export function against(finding: Finding, units: Shown): string {
  const { limit, reach, kind } = finding
  const say = words().findings
  const figure = compared(limit ?? 0, Math.abs(finding.value ?? limit ?? 0), units)
  const between = finding.least !== undefined && finding.least !== null
  if (between) return fallLimits(finding, units)
  const held =
    reach && kind.startsWith('straightedge') ? say.limitOver(figure, reachOf(reach, units)) : say.limit(figure)
  if (!isJudged(finding)) return ''
  return joined([limit === null || limit === undefined || kind === 'fall-short' ? '' : held, ...source(finding)])
}

/** The least and the most, as what the run would fall and as one in how much. */
function fallLimits(finding: Finding, units: Shown): string {
  const { least, limit, reach, value } = finding
  const over = reach || 1
  const told = (fall: number) => compared(fall, Math.abs(value ?? fall), units)
  const figures = [least ?? 0, limit ?? 0].map((fall) => `${told(fall)} (${ratio(fall / over)})`)
  return joined([words().findings.limitBetween(figures[0]!, figures[1]!), ...source(finding)])
}

/** Where the figure comes from, and how it was held against. */
function source({ rule }: Finding): string[] {
  const say = words().findings
  return [
    [rule.clause, rule.edition].filter(Boolean).map(clause).join(', '),
    say.provenance[rule.provenance],
    rule.decision === 'simple' ? say.simple : '',
  ]
}

function joined(parts: string[]): string {
  return parts.filter((part, index) => part && parts.indexOf(part) === index).join(' · ')
}
