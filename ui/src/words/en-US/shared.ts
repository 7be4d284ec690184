import type { Commands } from '../../bridge/generated/Commands'

/** Words that more than one screen uses. */
export const app = { name: 'Truefall', back: 'Back', close: 'Close', on: 'on' }

export const asked = {
  waiting: 'One moment …',
  noLink: 'Truefall did not answer. Nothing you entered is lost.',
  again: 'Try again',
  refused: 'That did not work.',
}

export const verdict = {
  within: 'within',
  out: 'out',
  'too-close-to-call': 'too close to call',
  'not-tested': 'not tested',
}

export const unit = { in: 'in', mm: 'mm' }
export const unitNames = { in: 'Inches and fractions', mm: 'Millimetres' }

export const point = {
  at: (station: string) => `at ${station}`,
  from: (wall: string) => `from the ${wall}`,
  each: (distance: string, wall: string) => `${distance} from ${wall}`,
  named: (joist: string, station: string) => `${joist} at ${station}`,
}

export const undo = { undo: 'Undo' }

const done: Record<keyof Commands, (subject: string) => string> = {
  'room-new': () => 'Room started',
  'room-rename': () => 'Room renamed',
  'room-archive': () => 'Room put away or taken out',
  'room-import': () => 'Room opened from a file',
  'plan-set': () => 'Plan set out',
  'setup-open': (subject) => `Set-up opened on ${subject}`,
  'setup-withdraw': () => 'Set-up taken back',
  'setup-close': (subject) => `Set-up closed on ${subject}`,
  'reading-add': (subject) => `Reading at ${subject}`,
  'readings-withdraw': () => 'Readings taken back',
  'readings-import': () => 'Readings brought in from a table',
  'import-withdraw': () => 'Readings from a table taken back',
  'gate-set': (subject) => `Framing: ${subject} answered`,
  'gate-clear': (subject) => `Framing: ${subject} cleared`,
  'approval-add': (subject) => `Approval recorded for ${subject}`,
  'approval-withdraw': () => 'Approval taken back',
  'rule-set': (subject) => `Rule changed: ${subject}`,
  'decision-set': () => 'Way of judging chosen',
  'tile-set': () => 'Tile chosen',
  'falls-set': () => 'Rule for falls chosen',
  'layers-set': () => 'Build-up changed',
  'target-set': () => 'Height chosen',
  'tick-set': (subject) => `Ticked: ${subject}`,
}

/** What a change was, in a few words; the name itself where it is not known. */
export function command(name: string, subject: string): string {
  return name in done ? done[name as keyof Commands](subject).trim() : name
}

/** The same in one word, for a narrow key. */
export const commandShort: Record<string, string> = {
  'setup-open': 'the mark',
  'setup-close': 'the closing',
  'plan-set': 'the plan',
  'reading-add': 'a reading',
  'readings-import': 'the table',
  'gate-set': 'an answer',
}
