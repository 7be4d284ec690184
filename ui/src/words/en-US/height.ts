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
