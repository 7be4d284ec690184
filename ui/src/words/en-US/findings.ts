import { capital, counted, listed } from './count'

/** The findings of a survey, worst first, and what to do about them. Figures come set in the room's units. */
export const findings = {
  title: 'Findings',
  sub: (room: string, survey: string) => [room, survey].filter(Boolean).join(' · '),
  none: {
    title: 'Nothing read yet.',
    text: 'Read at least three stations on each of two joists, or three points of a floor. The verdict stands here as soon as it can be given.',
    read: 'Start reading',
  },
  headline: {
    gauges: {
      within: (_gauged: number, places: number) => `Flat by the gauge in all ${places} places of the bar.`,
      out: (_gauged: number, places: number, out: number) => `Not flat by the gauge: ${out} of ${places} places.`,
      'too-close-to-call': () => 'Too close to call by the gauge.',
      'not-tested': (gauged: number, places: number) => `The gauge was tried in ${gauged} of ${places} places.`,
    },
    out: (joists: number, places: number) =>
      joists > 0 ? `Out: ${counted(joists, 'joist')}.` : `Out: ${counted(places, 'place')}.`,
    close: (count: number) => `Too close to call: ${counted(count, 'place')}.`,
    closeNamed: (names: string[]) => `Too close to call: ${listed(names)}.`,
    notReady: (tile: string | undefined, highs: number, lows: number, high: boolean, amount: string, walls: string) => {
      const many = [highs && counted(highs, 'high'), lows && counted(lows, 'low')].filter((one) => one !== 0)
      const one = `${high ? 'high' : 'low'} of ${amount}, ${walls}`
      const what = highs + lows === 1 ? `one ${one}` : `${many.join(' and ')}, the worst a ${one}`
      return `Not ready${tile ? ` for ${tile} tile` : ''}: ${what}.`
    },
    fromWall: (distance: string, wall: string) => `${distance} from the ${wall}`,
    within: 'Within its limits everywhere it was tested.',
    notTested: 'Not tested: the readings cannot tell.',
    restEven: 'The rest is one even slope.',
    restUneven: 'The rest is not one even slope either.',
    unread: (left: number) =>
      `${left === 1 ? 'One point is' : `${left} points are`} still to be read: this may change.`,
  },
  todo: {
    title: 'Do this first',
    lookUnder: (joist: string, wall: string) =>
      `*Look underneath ${joist} by the ${wall}* for a notch, split or cut before anything else.`,
    lookUnderFrom: (joist: string, from: string, to: string) =>
      `*Look underneath ${joist} from ${from} to ${to}* for a notch, split or cut before anything else.`,
    governs: (joist: string, from: string, to: string) =>
      `*${joist} governs:* slide the rule along ${joist} from ${from} to ${to} and read the smallest number: where is it?`,
    governsPoint: (point: string) => `*${point} governs:* everything hangs on this one reading. Take it again.`,
    blunder: (point: string) => `*Read ${point} again:* it does not fit its neighbors.`,
    engineer: (joist: string) => `*Ask an engineer about ${joist}:* it sags too far over its own ends.`,
    notLooked: '*Look at the framing:* nobody has said whether it is sound.',
    retake: (points: string[]) => `*Read again:* ${points.join('; ')}. Too close to call.`,
    retakeMany: (lines: string[]) =>
      `*Too close to call:* ${lines.length > 6 ? `${lines.length} lines` : listed(lines)}. Their rows say what to read again.`,
    height: 'Choose a height',
  },
  tabs: { label: 'Views of the readings', map: 'map', along: 'along', across: 'across', table: 'table' },
  evidence: 'Evidence',
  limit: (limit: string) => `limit ${limit}`,
  limitBetween: (least: string, most: string) => `from ${least} to ${most}`,
  limitOver: (limit: string, reach: string) => `limit ${limit} under ${reach}`,
  provenance: {
    read: 'as quoted in print',
    recalled: 'recalled, not read: check your edition',
    'common-practice': 'common practice',
    derived: 'by arithmetic',
    own: 'your own figure',
  },
  simple: 'measured value against the limit, risk shared',
  retake: (points: string[]) => `Read again: ${points.join('; ')}.`,
  noise: (mean: string, most: string) => `noise alone shows ${mean} to ${most}`,
  fromWall: (distance: string, wall: string) => `${wall} ${distance}`,
  more: (count: number) => counted(count, 'more finding'),
  restWithin: (count: number) => `${counted(count, 'finding')} within`,
  pointsAt: (joist: string, stations: string[]) => `${joist} at ${listed(stations)}`,
  fromTo: (upper: string, lower: string) => `${upper} to ${lower}`,
  across: (station: string) => `across at ${station}`,
  along: (joist: string) => `along ${joist}`,
  alongAt: (station: string) => `along at ${station}`,
  say: {
    high: (joist: string, at: string) => `${joist} stands above the rest, most at ${at}`,
    low: (joist: string, at: string) => `${joist} lies below the rest, most at ${at}`,
    crown: (joist: string, at: string) => `${joist} crowns over its own ends, most at ${at}`,
    sag: (joist: string, at: string) => `${joist} sags below its own ends, most at ${at}`,
    rises: (joist: string) => `${joist} rises from its near end to its far end`,
    falls: (joist: string) => `${joist} falls from its near end to its far end`,
    twist: (joist: string, at: string) => `${joist} is twisted: its two edges differ at ${at}`,
    sagRatio: (joist: string, oneIn: number) => `${joist} sags over its own ends: one part in ${oneIn}`,
    sharpDrop: (joist: string, stretch: string) => `${joist} drops sharply ${stretch}`,
    stretch: (from: string, to: string) => `from ${from} to ${to}`,
    bar: (reach: string, line: string) => `${reach} straightedge ${line}`,
    barAt: (reach: string, line: string, at: string) => `${reach} straightedge ${line}, gap at ${at}`,
    cannot: (apart: string, reach: string) => `Readings ${apart} apart cannot test a ${reach} bar`,
    cannotAny: (reach: string) => `These readings cannot test a ${reach} bar`,
    gauged: (reach: string) => `By the gauge: goes under the ${reach} bar`,
    nothingUnder: (reach: string) => `By the gauge: nothing goes under the ${reach} bar`,
    blunder: (point: string) => `${point} does not fit its neighbors`,
    governs: (joist: string) => `${joist} governs the height: one reading decides`,
    closing: (mark: string) => `The set-up closes on the ${mark}`,
    notClosed: (mark: string) => `The set-up is still open: read the ${mark} again`,
    level: (joist: string) => `${joist} is level from end to end`,
    straight: (joist: string) => `${joist} is straight over its own ends`,
    pond: (at: string) => `Water would stand here, deepest at ${at}`,
    noPond: 'No water would stand on it as read',
    fallRow: (line: string, oneIn: number) => `${capital(line)} falls to the drain: 1 in ${oneIn}`,
    fallRun: (from: string, oneIn: number) => `From ${from} it falls to the drain: 1 in ${oneIn}`,
    backward: (from: string) => `From ${from} it falls backward, away from the drain`,
    isLevel: (from: string) => `From ${from} it is level`,
    fallShort: (count: number, run: string, needed: string) =>
      `${counted(count, 'run')} of ${run} cannot be decided: runs of ${needed} could`,
    notLooked: (joists: string) => `Nobody has said whether these are sound: ${joists}`,
  },
  method: {
    title: 'How this was read',
    readings: (sd: string, setups: number) => `Each reading ${sd} (k = 2), ${counted(setups, 'set-up')}.`,
    closing: (closing: string) => `It closes to ${closing} on the benchmark.`,
    straightedge:
      'Straightedge: a rigid bar resting on two points of the line; the gap is taken between them. Out, within or too close to call counts the uncertainty in.',
    noise: 'Noise alone: what a perfect floor read this way would show on average, and one time in twenty.',
    guarded: 'Within means within by more than the uncertainty.',
    strength: 'This measures shape, never strength.',
  },
  table: {
    caption: 'Readings as entered, and how each stands to the reference of the map',
    point: 'point',
    joist: 'joist',
    line: 'row',
    reading: 'reading',
    height: 'height',
    unread: 'not read',
  },
  marks: {
    title: 'Chalk on the floor',
    amount: (name: string, amount: string, high: boolean) => `${name} ${amount} ${high ? 'high' : 'low'}`.trim(),
  },
}

/** What the drawings of the floor say. */
export const map = {
  label: (highs: string[], lows: string[], bar?: string) =>
    [
      'Map of the floor.',
      highs.length ? `High: ${listed(highs)}.` : '',
      lows.length ? `Low: ${listed(lows)}.` : '',
      bar ? `The straightedge shows ${bar}.` : '',
      'The table says the same.',
    ]
      .filter(Boolean)
      .join(' '),
  mark: (high: boolean, amount: string) => `${amount} ${high ? 'high' : 'low'}`,
  gap: (gap: string) => `gap ${gap}`,
  doorway: 'door',
  drain: 'drain',
  entry: 'entry',
  larger: 'Larger',
  smaller: 'Smaller',
  lowest: (amount: string) => `${amount} below`,
  highest: (amount: string) => `${amount} above`,
  water: 'Ripples: water stands here, as read.',
  middle: 'one level',
}

/** The floor drawn in three dimensions. */
export const solid = {
  title: 'Three dimensions',
  label: (factor: number) =>
    `The floor as read, heights drawn ${factor} times larger. The map and the table say the same.`,
  exaggeration: 'Heights drawn larger by',
  times: (factor: number) => `${factor}×`,
  left: 'Turn left',
  right: 'Turn right',
  waiting: 'Drawing …',
  cannot: 'This device cannot draw it. The map says the same.',
  show: 'See it in three dimensions',
}

export const profile = {
  label: (name: string, gap: string | undefined, at: string | undefined, points: number) =>
    gap && at
      ? `${name}: the straightedge shows ${gap} at ${at}.`
      : `${name}: ${points} points, no gap under a straightedge.`,
  exaggerated: (factor: number) => `Heights are drawn ${factor} times larger than lengths, the same for all.`,
  figures: 'Figures: as read.',
  limit: (limit: string) => `Dashed: the gap allowed, ${limit}.`,
  none: 'No line has two readings yet.',
}
