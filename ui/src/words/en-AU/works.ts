import * as US from '../en-US/works'

export const pour: typeof US.pour = {
  ...US.pour,
  title: 'Levelling and beds',
  kinds: { compound: 'Levelling compound', bed: 'Screed to fall' },
  atDrain: 'Thickness at the waste',
  cautionBed: 'Wet screed is heavy and burns the skin. Ask whether the joists may carry it before it is mixed.',
}

export const fall: typeof US.fall = {
  ...US.fall,
  title: 'Fall to the waste',
  edge: (rise) => `The edge stands ${rise} over the waste`,
  origins: { centre: 'Centre of the waste', rim: 'Its rim' },
  rise: 'Edge over the waste',
  problems: {
    'drain-outside': 'The waste lies outside the room. Move it on the plan.',
    'drain-at-edge': 'The waste touches the edge, which cannot be level there: the floor is laid as one plane.',
  },
  square: 'square to the waste',
  marksLead: US.fall.marksLead.replace('over the drain', 'over the waste'),
  holds: (volume, deepest) => `The floor holds ${volume}, ${deepest} at its deepest, with the waste stopped.`,
  window: 'Where the waste may go',
  begin: 'A floor falls to a waste. Put the waste on the plan first.',
}

export const drain: typeof US.drain = {
  ...US.drain,
  title: 'Where the waste may go',
  kind: 'Waste',
  nowhere: 'Keep it in the middle and move the whole shower by packing out a wall, or take a channel.',
  kinds: { point: 'Point', linear: 'Channel' },
  why: {
    ...US.drain.why,
    joist: (joists) => `Its hole meets ${joists}, or comes closer than it may: never cut a joist for a waste.`,
    trough: (joists) => `Its channel hangs below the tops of ${joists}: never cut a joist for a waste.`,
  },
  bars: { ...US.drain.bars, trough: 'channel over a joist' },
  put: 'Put the waste here on the plan',
  trough: 'Its channel',
  troughs: {
    ...US.drain.troughs,
    'not-typed': () =>
      'Its outlet alone is checked. Put in the channel’s size from its sheet: it may meet joists, too.',
    'no-layers': () =>
      'How much of the channel the floor holds is not known: put in the layers first. It is not checked.',
  },
  map: (free) => `The floor from above, ${free} percent of it free for the waste.`,
}

export const cutting: typeof US.cutting = {
  ...US.cutting,
  steps: {
    ...US.cutting.steps,
    sister: (joists) => `Double up ${joists}: straight, dry, bearing to bearing, its top no higher than the old tops.`,
    dress: (joists) => `Plane ${joists} as listed: nails pulled, cables and pipes found first.`,
    rip: (joists) => `Rip the packers for ${joists}.`,
  },
  sister: (joist, depth, buy) => `Second joist for ${joist}: ${depth} deep, ${buy} long, dry and straight`,
  stock: 'Sheets and packers',
  kinds: { plywood: 'sheet', solid: 'packer' },
  nesting: 'Packers on the boards',
  waste: (share, kerf) => `${share} % of the boards becomes no packer, ${kerf} a cut for the saw included.`,
  measured: 'Measure the real stock: sheets run under their name, and planed timber shrinks.',
}

export const ledges: typeof US.ledges = {
  ...US.ledges,
  start: 'Benches, niche sills, shelves, hob caps and window sills: none may hold water.',
  kinds: { ...US.ledges.kinds, curb: 'hob cap' },
  fix: 'Water stays on it: pitch it toward the waste before it is tiled.',
}

export const tiles: typeof US.tiles = {
  ...US.tiles,
  nicheCentre: 'Centre it on the wall',
  bed: 'Adhesive',
  mortar: (volume) => `About ${volume} of adhesive.`,
  thick: 'Its neighbour, tile',
}
