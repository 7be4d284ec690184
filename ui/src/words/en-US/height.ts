import type { Action } from '../../bridge/generated/Action'
import { counted, listed } from './count'

const names: Record<string, string> = {
  'level-nothing-cut': 'Level, nothing cut',
  'level-dressed': 'Level, dressed where that is allowed',
  'level-by-approval': 'Level, high joist dressed',
  'level-sister-high': 'Level, high joist sistered too',
  'flat-not-level': 'Flat, not level, nothing cut',
  held: 'Level, held by you',
}

/** The heights a floor can be built to, side by side. */
/** Why a joist gets the work it gets, and why a cut is not the builder's own to make. Figures come set. */
export const why = {
  unsound: 'Not sound: sister it, or ask the engineer, at any height.',
  sags: 'It sags over its own ends: look underneath, then sister it or ask the engineer.',
  'not-read': 'Not read.',
  'lift-too-large': (lift: string) => `It is ${lift} low, more than a strip makes up.`,
  governs: 'It sets the height: sistered too, its old top can come down.',
  'old-top-above': (by: string) => `Its old top stands ${by} above the target: ask before it is cut down.`,
  dressing: (depth: string, from: string, to: string) => `Dress ${depth} deep from ${from} to ${to}.`,
  'by-approval': (depth: string, from: string, to: string) =>
    `Cut ${depth} deep from ${from} to ${to}: the approval on record covers it.`,
  'needs-approval': (depth: string, from: string, to: string) =>
    `Only with an approval: ${depth} deep from ${from} to ${to}.`,
}

export const forbids = {
  engineered: () => 'An engineered member is not cut unless its maker or a designer allows it.',
  'unknown-kind': () => 'Nobody has said what this member is: look first, and cut nothing.',
  'middle-third': () => 'The cut reaches the middle third of the span, where no notch is allowed.',
  'dressing-too-deep': (limit: string, notch: string) =>
    `Longer than ${notch} this is planing, and planing goes to ${limit}.`,
  'notch-too-deep': (limit: string) => `A notch here goes to ${limit}.`,
  'not-dressing': (limit: string) => `The plan dresses a joist to ${limit} and no deeper.`,
  'outside-approval': () => 'The cut reaches outside what the approval covers.',
  'deeper-than-approved': (limit: string) => `The approval goes to ${limit} and no deeper.`,
  'bore-too-wide': (limit: string) => `A hole here is at most ${limit} wide.`,
  'bore-too-near': (limit: string) => `A hole keeps ${limit} of wood to the edges, other holes and notches.`,
}

/** Recording that somebody entitled to it allowed a cut. */
export const approvals = {
  title: 'Approvals',
  lead: 'An approval is somebody’s who is entitled to give it: the engineer, the maker of the member, the building official. Without one on record no listed cut counts, and none can be ticked off.',
  recorded: 'On record',
  none: 'None yet.',
  count: (count: number) => (count === 0 ? 'none' : `${count} on record`),
  one: (joist: string, depth: string, from: string, to: string) =>
    `${joist}: ${depth} deep at most, from ${from} to ${to}`,
  by: (by: string, date: string, reference: string) => `${by}, ${date}, ${reference}`,
  withdraw: 'Withdraw',
  record: 'Record an approval',
  joist: 'Joist',
  depth: 'Deep at most',
  from: 'From',
  to: 'To',
  fromNote: (wall: string) => `Along the joist, from the ${wall}.`,
  who: 'Given by',
  whoNote: 'Name and what entitles them.',
  date: 'On',
  noDay: 'This is no day of the calendar. Write it like 2026-03-02.',
  reference: 'Reference',
  referenceNote: 'Letter, permit or mail it stands in.',
  keep: 'Record it',
  missing: (fields: string) =>
    `Still missing: ${fields}. What may be cut, who, when and a reference are what make it an approval.`,
  question: (joist: string) => `Question to the engineer about ${joist}`,
  noCut: (joist: string) => `Nothing is to be cut off ${joist} at any of the heights.`,
  answer: 'Answer',
  answers: [
    'Allowed: yes / no',
    'Greatest depth',
    'From – to along the joist',
    'On these terms',
    'Name, license, date, signature',
  ],
  print: 'Print the question',
  rows: {
    member: 'Member',
    span: 'Clear span',
    cut: 'Cut wanted',
    left: 'Depth left',
    third: 'Middle third',
    modulus: 'Section modulus lost',
    stiffness: 'Stiffness lost',
    why: 'Why it is asked',
  },
  member: (kind: string, depth: string) => `${kind}, ${depth} deep`,
  cut: (depth: string, length: string, from: string, to: string) => `${depth} deep, ${length} long: ${from} to ${to}`,
  third: (from: string, to: string, inside: boolean) =>
    `${from} to ${to}${inside ? ': the cut reaches into it' : ': the cut stays outside'}`,
  percent: (share: string) => `${share} %`,
  atDeepest: (share: string) => `${share} % where it is deepest`,
  wholeLength: (share: string) => `${share} % if it ran the whole length`,
  see: 'Approvals',
  ask: 'Ask, or record an approval',
}

export const height = {
  title: 'Height',
  none: {
    title: 'Not yet.',
    read: 'Start reading',
  },
  name: (id: string) => names[id] ?? id,
  hold: (figure: string) => `Hold ${figure} below the line`,
  over: (figure: string) => `Hold ${figure} over the mark`,
  flat: 'Flat, not level',
  runs: (rise: string, length: string, wall: string) => `It runs up ${rise} in ${length} from the ${wall}.`,
  runsDown: (rise: string, length: string, wall: string) => `It runs down ${rise} in ${length} from the ${wall}.`,
  work: (strips: number, sisters: number, cuts: number, asks: number) => {
    const made = [counted(strips, 'strip'), counted(sisters, 'sister')]
    const cut = cuts > 0 ? [counted(cuts, 'joist cut', 'joists cut')] : []
    const asked = asks > 0 ? [`${counted(asks, 'joist')} for the engineer`] : []
    return listed([...made, ...(cuts + asks > 0 ? [...cut, ...asked] : ['nothing cut'])])
  },
  door: (rises: string[]) => (rises.length ? `The doorway rises ${listed(rises)}` : ''),
  eitherJamb: (one: string, other: string) =>
    one === other ? [`${one} at both jambs`] : [`${one} at one jamb`, `${other} at the other`],
  allowed: (budget: string) => `${budget} allowed`,
  needsApproval: 'needs a recorded approval',
  approvalOnRecord: 'by the approval on record',
  overBudget: 'over what the door allows',
  water: 'dry rooms only',
  best: 'best',
  chosen: 'chosen',
  columns: { hold: 'hold', door: 'door', strips: 'strips', sisters: 'sisters', cuts: 'cuts' },
  alternatives: 'Ways to make it flat',
  lower: (step: string) => `lower −${step}`,
  higher: (step: string) => `higher +${step}`,
  doorMark: 'door',
  jumps: { high: 'high point', door: 'door limit', cheapest: 'least work' },
  slider: 'Height to hold',
  choose: 'Build to this height',
  cutList: 'Cut list',
  seeCutList: 'Cut list',
  cautions: {
    approval: (joists: string) =>
      `*Not to be cut yet:* ${joists}. Somebody entitled to it has to approve the cut, and it has to be recorded here.`,
    askFirst: 'This height needs an approval before any work starts.',
    budget: (most: string, budget: string) => `*The doorway rises ${most}*; the hall floor leaves ${budget}.`,
    water: '*Spilled water heads for the low side.* For dry rooms only; never where water is spilled.',
    unlooked: (joists: string[]) =>
      joists.length > 2
        ? '*Nobody has looked at the framing.* Shape is measured here, never strength.'
        : `*Nobody has looked at ${listed(joists)}.* Shape is measured here, never strength.`,
  },
}

/** What is made and done for each joist. */
export const cutList = {
  title: 'Cut list',
  sub: (room: string, name: string) => `${room} · ${name}`,
  done: (done: number, all: number) => `${done} of ${all} done`,
  caption: {
    in: (wall: string) =>
      `Inches up from the joist as found, over inches from the ${wall}. One piece each, never packs.`,
    mm: (wall: string) => `mm up from the joist as found, over mm from the ${wall}. One piece each, never packs.`,
  },
  action: {
    leave: 'leave as it is',
    sheet: 'sheet material',
    strip: 'strip',
    'tall-strip': 'tall strip from 2x stock',
    sister: 'sister',
    dress: 'dress',
    'dress-and-strip': 'dress and strip',
    'ask-engineer': 'ask an engineer',
  } satisfies Record<Action, string>,
  strips: (count: number) => counted(count, 'strip'),
  lengths: (work: string, lengths: string[]) => `${work}, ${listed(lengths)}`,
  bare: 'bare between: under the least strip is not worth making',
  sister:
    'Dashed: how far it is low. A sister is straight and dry, runs bearing to bearing, its top no higher than the old tops under walls and hall. Read its top again before ripping any strip for it.',
  sisterCaution: 'Before fixing: find the cables and pipes in the bay.',
  dressCaution:
    'Before planing: pull nails, find cables and pipes. Old paint can hold lead, old bedding asbestos: test first, keep the dust down.',
  stockCaution:
    '*Ripping or planing old wood:* hidden nails, lead paint, asbestos, silica. Test first, keep the dust down, mask on.',
  approved: (by: string, date: string, reference: string) => `Approved by ${by}, ${date}, ${reference}`,
  notAllowed: 'not to be cut without a recorded approval',
  forbidden: (joists: string[]) =>
    `*${listed(joists)} ${joists.length === 1 ? 'is' : 'are'} not to be planed* without a recorded approval. Ask an engineer first.`,
  onlyAs: (joist: string, depth: string, from: string, to: string) =>
    `*${joist} is cut only as approved:* ${depth} deep at most, from ${from} to ${to}.`,
  noCut: '*No joist is cut without a recorded approval.* Shape is measured here, never strength.',
}
