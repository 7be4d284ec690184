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

/** What the screens propose as names; once kept, they are data, and are said in the language of who reads them. */
export const defaults = {
  baseWall: 'door wall',
  sideWall: 'left wall',
  entryLine: 'entry line',
  otherWall: 'side wall',
  farWall: 'far wall',
  rightWall: 'right wall',
  drainEnd: 'drain end',
  drainEdge: 'drain edge',
  subfloor: 'hall subfloor',
  joists: 'joists as found',
  floor: 'floor',
  fall: 'fall to the drain',
  bed: 'Bed before the membrane',
  doorMark: 'door mark',
  laserTape: 'laser line and tape',
  laserRod: 'laser and rod',
  stringTape: 'string line and tape',
  waterLevel: 'water level',
  'framing-bounce': 'framing: bounce',
  'framing-rot': 'framing: soft wood',
  'framing-cut': 'framing: cuts and splits',
  'framing-moisture': 'framing: moisture',
  'framing-size': 'framing: size',
  'framing-kind': 'framing: kind',
  'framing-span': 'framing: span',
  'framing-photograph': 'framing: whole',
}

/** Why the core refused, its field called by the label that stands on the screen. */
export function refusal(_kind: string, message: string, label?: string): string {
  return label ? message.replace(/^.*? must be /, `“${label}” must be `) : message
}

/** Points that were not read, said once. */
export function unread(count: number): string {
  return count === 1 ? 'One point was not read; it is left out.' : `${count} points were not read; they are left out.`
}

/** What is wrong with the data. */
export function problem(_kind: string, message: string): string {
  return message
}

/** Clauses and editions that the core names, where another language says them otherwise. */
export const clauses: Record<string, string> = {
  'common practice': 'common practice',
  'check your edition': 'check your edition',
  'United States, dwelling shower': 'United States, dwelling shower',
  'United States, plumbing code': 'United States, plumbing code',
  'United States, accessible roll-in': 'United States, accessible roll-in',
  'Australia, shower': 'Australia, shower',
  'Australia, older: shower': 'Australia, older: shower',
  'Australia, older: other wet floor': 'Australia, older: other wet floor',
  'New Zealand, within 1500 mm of the rose': 'New Zealand, within 1500 mm of the rose',
  'United Kingdom, wet room': 'United Kingdom, wet room',
  'ANSI A108.02, substrate for tile, as quoted in the trade':
    'ANSI A108.02, substrate for tile, as quoted in the trade',
  'Pressed floor and porcelain tile': 'Pressed floor and porcelain tile',
  Stone: 'Stone',
  'United Kingdom, floor tile': 'United Kingdom, floor tile',
  'Australia, floor tile': 'Australia, floor tile',
  'stone institute, as quoted with A108.02': 'stone institute, as quoted with A108.02',
  'NSW guide 12.9': 'NSW guide 12.9',
}

export const languageNames = {
  device: 'As the device',
  'en-US': 'English (US)',
  'en-AU': 'English (UK, Australia)',
  es: 'Español',
}

export const unit = { in: 'in', ft: 'ft', mm: 'mm', m: 'm' }
/** The units in a few signs, for narrow keys. */
export const unitShort = { in: '1/16 in', decimal: '0.01 in', mm: 'mm' }
export const unitNames = { in: 'Inches and fractions', decimal: 'Decimal inches', mm: 'Millimeters' }

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
  'pour-set': () => 'Pour changed',
  'fall-plan-set': () => 'Fall changed',
  'ledges-set': () => 'Ledges changed',
  'tiling-set': () => 'Tile layout changed',
  'door-set': () => 'Door heights changed',
  'stock-set': () => 'Sheets and shims changed',
  'target-set': () => 'Height chosen',
  'tick-set': (subject) => `Ticked: ${subject}`,
  'entry-put': (subject) => `Record: ${subject}`,
  'entry-remove': () => 'Taken off the record',
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
