/** Another reading at a place of its own, and where it tells most. */
export const another = {
  title: 'Another reading',
  smallest: (joist: string, from: string, to: string) =>
    `Slide the rule along *${joist}* from ${from} to ${to} and find the smallest number. Where is it, and what is it?`,
  largest: (joist: string, from: string, to: string) =>
    `Slide the rule along *${joist}* from ${from} to ${to} and find the largest number. Where is it, and what is it?`,
  here: (place: string) => `Read the floor at *${place}*.`,
  joist: 'Joist',
  where: 'Where it is',
  from: (wall: string) => `from the ${wall}`,
  number: 'What it reads',
  keep: 'Keep it',
  kept: (place: string, text: string) => `${place}: ${text} kept.`,
  noSetup: 'The level has been put away: its set-up is closed. Stand it again and read the mark, then come back here.',
  stand: 'Stand the level',
  seek: 'Seek it',
  advice: {
    title: 'Where another reading tells most',
    why: {
      unread: 'not read yet',
      'least-known': 'the floor is known least here',
      undecided: 'too high or not is least decided here',
    },
    sd: (sd: string) => `known to ${sd}`,
    go: 'Read here',
  },
}

/** Chalking the highs and lows on the floor, one after the other. */
export const chalk = {
  title: 'Mark the floor',
  start: 'Mark the floor',
  none: 'Nothing stands out: there is nothing to mark.',
  draw: (high: boolean): string => (high ? 'Chalk an X' : 'Chalk an O'),
  write: (amount: string) => `and write *${amount}* beside it`,
  high: 'high',
  low: 'low',
  from: (wall: string) => `from the ${wall}`,
  done: 'Marked',
  back: 'Back',
  count: (done: number, all: number) => `${done} of ${all} marked`,
  all: 'All marked.',
  allThen: 'Highs first: grind or plane them, then fill the lows, then read again.',
  caution: '*Grinding or planing:* silica, lead, asbestos, nails, cables. Test first, wet or with a vacuum, mask on.',
}

/** Before and after, from the same points. */
export const compare = {
  title: 'Before and after',
  again: 'Read the same points again',
  againNote: 'After the work: the same places, from the same mark. What was read before stays as it is.',
  after: (name: string) => `${name}, after`,
  none: 'Nothing has been read twice yet.',
  pick: 'Compared',
  changed: (count: number, all: number) => `${count} of ${all} points really changed.`,
  unchanged: 'No change beyond what reading alone would show.',
  range: (before: string, after: string) =>
    `Highest over lowest, the even slope taken off: ${before} before, *${after}* after.`,
  raised: 'raised',
  lowered: 'lowered',
  same: 'no real change',
  unmatched: (count: number) =>
    count === 1 ? 'One point was read only once.' : `${count} points were read only once.`,
  columns: { point: 'point', before: 'before', after: 'after', change: 'change' },
  caption: 'Heights over the mark, and how each changed',
}

/** Checks of the level and of the hand that reads it. */
export const checks = {
  title: 'Check the level',
  sub: 'before you trust it',
  peg: 'Is the line level?',
  pegLead: 'Two marks on two walls. First stand the level halfway between them, then close to the first one.',
  middle: 'From the middle',
  beside: 'Beside the first mark',
  first: 'first mark',
  second: 'second mark',
  apart: 'Between the marks',
  reach: 'Farthest point in this room',
  judge: 'Is it true?',
  tilt: (up: boolean, slope: string) => `The line ${up ? 'rises' : 'falls'} as it runs away: ${slope}.`,
  error: (error: string, reach: string, u: string) => `At ${reach} it reads *${error}* wrong, ${u}.`,
  level: 'No tilt was found.',
  means: {
    within: 'True enough for this room.',
    out: 'Do not read with it: have it adjusted, or keep all points at one distance from it.',
    'too-close-to-call': 'Cannot be told. Put the marks farther apart, or read each twice.',
    'not-tested': 'Not tested.',
  },
  repeat: 'How closely do you read?',
  repeatLead: 'Read the same point five times. Take the rule away each time, and do not look at the last number.',
  reading: (number: number) => `Reading ${number}`,
  scatter: (spread: string, range: string) => `You read to *${spread}* (k = 2); largest less smallest ${range}.`,
  most: (most: string) => `Five readings cannot rule out ${most}.`,
  use: 'Read with this from now on',
  used: 'The next set-up starts from this figure.',
}

/** What a way of reading can decide, said before it begins. */
export const method = {
  decides: (limit: string, reach: string) => `Read so closely, it can decide ${limit} under ${reach}.`,
  cannot: (limit: string, reach: string) => `Read so, it cannot find ${limit} under ${reach} within.`,
  would: (needs: string, readings: number) =>
    readings > 6
      ? `${needs} would, or a gauge.`
      : `${needs} would, or ${readings} readings at each point, or a gauge under the bar.`,
  gauge: 'The straightedge walk with a gauge can.',
  untested: (reach: string) => `These points lie too far apart for a ${reach} bar: only a gauge can tell.`,
  hides: (spacing: string) => `What is narrower than ${spacing} can hide between two points.`,
  title: 'What this can decide',
}

/** When the instrument was moved. */
export const moved = {
  key: 'The level was bumped',
  lead: 'Read the mark again without touching anything. If it still reads the same, go on.',
  goOn: 'Go on reading',
  set: 'Set these readings aside',
  setNote: (count: number) =>
    count === 1
      ? 'The one reading of this set-up is asked for again.'
      : `All ${count} readings of this set-up are asked for again.`,
}
