import { counted, listed } from '../en-US/count'
import * as US from '../en-US/height'

const names: Record<string, string> = {
  'level-dressed': 'Level, planed where that is allowed',
  'level-by-approval': 'Level, high joist planed',
  'level-sister-high': 'Level, high joist doubled up too',
}

export const height: typeof US.height = {
  ...US.height,
  name: (id) => names[id] ?? US.height.name(id),
  work: (strips, sisters, cuts, asks) => {
    const made = [counted(strips, 'packer'), counted(sisters, 'double-up')]
    const cut = cuts > 0 ? [counted(cuts, 'joist cut', 'joists cut')] : []
    const asked = asks > 0 ? [`${counted(asks, 'joist')} for the engineer`] : []
    return listed([...made, ...(cuts + asks > 0 ? [...cut, ...asked] : ['nothing cut'])])
  },
  columns: { ...US.height.columns, strips: 'pack', sisters: 'double' },
}

export const why: typeof US.why = {
  ...US.why,
  unsound: 'Not sound: double it up, or ask the engineer, at any height.',
  sags: 'It sags over its own ends: look underneath, then double it up or ask the engineer.',
  'lift-too-large': (lift) => `It is ${lift} low, more than a packer makes up.`,
  governs: 'It sets the height: doubled up too, its old top can come down.',
  dressing: (depth, from, to) => `Plane ${depth} deep from ${from} to ${to}.`,
}

export const cutList: typeof US.cutList = {
  ...US.cutList,
  caption: {
    in: (wall) =>
      `Inches up from the joist as found, over inches from the ${wall}. One piece each, never loose packers.`,
    mm: (wall) => `mm up from the joist as found, over mm from the ${wall}. One piece each, never loose packers.`,
  },
  action: {
    ...US.cutList.action,
    sheet: 'sheet packing',
    strip: 'packer',
    'tall-strip': 'tall packer, ripped from joist timber',
    sister: 'double up',
    dress: 'plane',
    'dress-and-strip': 'plane and pack',
  },
  strips: (count) => counted(count, 'packer'),
  bare: 'bare between: under the least packer is not worth making',
  sister:
    'Dashed: how far it is low. The second joist is straight and dry, runs bearing to bearing, its top no higher than the old tops under walls and hall. Read its top again before ripping any packer for it.',
  stockCaution:
    '*Ripping or planing old timber:* hidden nails, lead paint, asbestos, silica. Test first, keep the dust down, mask on.',
}
