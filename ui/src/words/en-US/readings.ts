import type { Slip } from '../../bridge/generated/Slip'
import type { Surface } from '../../bridge/generated/Surface'
import type { Verdict } from '../../bridge/generated/Verdict'

const surfaces: Record<Surface, string> = { framing: 'joist', floor: 'floor', fall: 'floor' }

export const readings = {
  title: 'Readings',
  sub: (mark: string, opening: string) => `${mark} ${opening}`,
  count: (read: number, points: number) => `${read} of ${points}`,
  noPoints: 'This room has no points to read yet. Set out its plan first.',

  lock: 'Lock the glass to wipe it',
  locked: 'Locked for wiping',
  unlock: 'Tap 1, then 2.',

  standFirst: 'Stand the level and leave it.',
  standAgain: 'Stand the level again.',
  standWhy: 'Read a fixed mark first. Reading it again at the end shows whether anything moved.',
  instrument: 'Read with',
  reads: 'How closely it reads, 19 times in 20',
  means: 'What the number means',
  mark: 'The mark, something that will not move',
  begin: 'Read the mark',

  openFirst: 'Read this mark first.',
  beforeClosing: 'One place worth another look? Not once it is closed.',
  closeNow: 'All read. Read the mark again to close.',
  closeEarly: 'Read the mark again to close.',
  sense: { down: 'Down from the line', up: 'Up from the mark' },
  senseOf: {
    down: (surface: Surface) => `bigger, lower ${surfaces[surface]}`,
    up: (surface: Surface) => `bigger, higher ${surfaces[surface]}`,
  },
  edges: { left: 'Left edge', right: 'Right edge' },
  bothEdges: 'Read both edges: twisted joists',
  skip: 'Skip',
  choosePoint: 'Choose a point',
  points: 'All points',
  pointsSub: 'Tap one to read it, or to read it again',
  rowAt: (station: string) => `at ${station}`,
  closeSetup: 'Close this set-up on its mark',

  wholeInch: (whole: string) => `Whole inch ${whole}`,
  pad: 'Keys for the reading',
  back: 'Take back one key',
  point: 'Decimal point',
  minus: 'Minus',
  clear: 'clear',
  strong: 'strong',
  shy: 'shy',
  otherKeys: 'Other keys',
  page: { in: { first: '1/16', second: '123' }, mm: { first: '.', second: '−' } },
  next: 'Next',
  keepOpening: 'Start',
  keepClosing: 'Close',
  hint: { in: 'Tap the sixteenth, then next.', mm: 'Tap the digits, then next.' },
  echoIn: (decimal: string, mm: string) => `${decimal} in · ${mm} mm`,
  echoDecimal: (fraction: string, mm: string) => `${fraction.replace('"', '')} in · ${mm} mm`,
  echoMm: (fraction: string) => `${fraction.replace('"', '')} in`,
  already: (entered: string) => `Read as ${entered}. A new number takes its place; both are kept.`,
  together: (entered: string) => `Counts together with ${entered}: their mean is the height.`,
  countBoth: 'Count both',
  difference: (amount: string, sign: number, point: string) =>
    sign === 0 ? `level with ${point}` : `*${amount} ${sign > 0 ? 'above' : 'below'}* ${point}`,
  unusual: 'A crown, or a slip? Next keeps it.',
  far: (expected: string, u: string) => `*Far off.* The readings around lead one to expect ${expected}, ${u}.`,
  slip: {
    inch: 'A slip of an inch?',
    foot: 'A slip of a foot?',
    'ten-millimetres': 'A slip of 10 mm?',
    'hundred-millimetres': 'A slip of 100 mm?',
    'swapped-digits': 'Two digits swapped?',
  } satisfies Record<Slip, string>,
  keepTyped: (text: string) => `Keep ${text}`,
  itWas: (text: string) => `It was ${text}`,
  wasAnother: 'It was another number',
  kept: (point: string, text: string) => `${point}: ${text} kept.`,
  takenBack: 'Taken back.',

  closedOn: (mark: string) => `Closed on ${mark}.`,
  closes: (error: string) => `Closes ${error}`,
  closedFigures: (mark: string, opening: string, closing: string) =>
    `The ${mark} read ${opening} at the start and ${closing} at the end.`,
  closesMeans: {
    within: 'The level stood still. All readings of this set-up count.',
    out: 'Something moved: the level, the mark or the tape. Every reading of this set-up is marked until it is read again.',
    'too-close-to-call': 'It may have moved by more than the limit. Read the mark once more before you rely on it.',
    'not-tested': 'The set-up is not closed yet.',
  } satisfies Record<Verdict, string>,
  readAgain: 'Stand the level again',
  toFindings: 'See the findings',
}
