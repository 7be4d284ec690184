import * as US from '../en-US/rooms'

export const rooms: typeof US.rooms = {
  ...US.rooms,
  demoOf: {
    kestrel: 'Seven joists out of plane, one cut below',
    rowan: 'A hobless shower and where its waste may go',
    banksia: 'A tiled floor that should fall, and ponds',
  },
}

export const newRoom: typeof US.newRoom = US.newRoom

export const structure: typeof US.structure = {
  ...US.structure,
  question: {
    ...US.structure.question,
    rot: 'Push an awl into the joists near the waste and the walls. Soft, dark or crumbling?',
    kind: 'Solid timber, I-joist, truss or laminated? Is it known and sound for its kind?',
  },
}

export const rules: typeof US.rules = {
  ...US.rules,
  falls: 'Fall to the waste',
  fallSquare: 'square to the waste',
  names: {
    ...US.rules.names,
    'far-off': 'How far off what its neighbours say a reading is asked about',
    strong: 'How much full or bare means',
    'framing-crown': 'Hog or sag of one joist',
    twist: 'Wind of a joist top',
    'sag-ratio': 'Sag that calls for doubling up: one part in',
    'fall-least': 'Least fall toward the waste',
    'fall-most': 'Most fall toward the waste',
    'strip-least': 'Thinnest packer worth making',
    'strip-sheet-below': 'Sheet packing below this thickness',
    'strip-most': 'Thickest ripped packer',
    'strip-tall': 'Thickest packer ripped from joist timber',
    'strip-tall-allowed': 'Tall packers where only height is missing',
    'dress-most': 'Deepest planing of a solid joist outside its middle third',
    'cost-strip': 'Weight of one packer',
    'cost-sister': 'Weight of doubling up one joist',
    'cost-dress': 'Weight of planing one joist',
  },
}

export const settings: typeof US.settings = {
  ...US.settings,
  aboutLead: 'True is flat and straight, fall is the way to the waste. Everything stays on this device.',
}
