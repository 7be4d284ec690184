import { counted } from './count'

/** Units of plain quantities, as they stand behind a number. */
export const plainUnit = {
  cubicFeet: 'ft³',
  litres: 'L',
  pounds: 'lb',
  kilograms: 'kg',
  poundsPerFoot: 'lb/ft²',
  kilogramsPerMetre: 'kg/m²',
  gallons: 'gal/min',
  waterGallons: 'gal',
  inchesPerFoot: 'in/ft',
  litresPerMinute: 'L/min',
  squareFeet: 'ft²',
  squareMetres: 'm²',
}

/** What is tried out on a screen, kept or dropped. */
export const keep = { keep: 'Keep this', drop: 'Back to what was kept' }

/** Levelling compound and beds. Figures come set in the room's units. */
export const pour = {
  title: 'Leveling and beds',
  start: 'How many bags, how deep, how heavy, and where it would run out.',
  begin: 'Start with the usual',
  kind: 'What is laid',
  kinds: { compound: 'Leveling compound', bed: 'Mortar bed to fall' },
  over: 'Depth over the highest reading',
  overNote: 'The least depth of its sheet, at least. 0 feathers out at the highest reading.',
  atDrain: 'Thickness at the drain',
  rise: 'How much higher the far edge stands',
  bag: 'From the bag and its sheet',
  product: 'What it is called, with its batch',
  yield: 'One bag yields',
  bagWeight: 'One bag, mixed, weighs',
  least: 'Least depth',
  most: 'Greatest depth',
  waste: 'For waste',
  loadMost: 'The floor may carry',
  loadNote: 'What the floor may carry comes from an engineer; left empty, nothing is judged by it.',
  bags: (bags: number) => (bags === 1 ? 'One bag' : `${bags} bags`),
  over2: (volume: string, area: string) => `${volume} over ${area}.`,
  weighs: (mass: string) => `Laid, it weighs ${mass}.`,
  noYield: 'Type what one bag yields to get bags.',
  hold: (hold: string) => `Its top is ${hold} below the line.`,
  at: (point: string) => ` at ${point}`,
  thinnest: (depth: string, at: string) => `Thinnest ${depth}${at}`,
  thickest: (depth: string, at: string) => `Thickest ${depth}${at}`,
  heaviest: (load: string) => `Heaviest ${load}`,
  load: (load: string) => `${load} on the whole. Ask whether the floor may carry it.`,
  atLeast: (limit: string) => `at least ${limit}`,
  atMost: (limit: string) => `at most ${limit}`,
  sheet: 'by its sheet, as you typed it',
  engineer: 'as you typed it',
  bare: (points: string) => `It comes to nothing at ${points}.`,
  doorway: 'doorway',
  entry: 'entry',
  dam: (opening: string, wide: string) => (height: string) =>
    `Dam the ${opening}, ${wide} wide, at least ${height} high, before anything is mixed.`,
  depths: 'Depth at each reading',
  list: 'As a list',
  caution:
    'Screw down, fill every hole and gap, prime as its sheet says. It finds every way out and runs onto the ceiling below. It cannot make a fall. Keep the dust down, gloves on.',
  cautionBed: 'Wet mortar is heavy and burns the skin. Ask whether the joists may carry it before it is mixed.',
  trust: 'Arithmetic on what you typed. The product’s sheet, local code and the engineer decide.',
}

/** How a wet floor falls, and how it is put right. */
export const fall = {
  title: 'Fall to the drain',
  edge: (rise: string) => `The edge stands ${rise} over the drain`,
  slope: (fall: string) => `It falls ${fall} from the far end.`,
  shape: 'The edge',
  shapes: { level: 'Level all round', even: 'One even plane' },
  origin: 'Fall measured from',
  origins: { centre: 'Drain’s center', rim: 'Its rim' },
  rise: 'Edge over the drain',
  riseNote: (rise: string) => `Empty takes ${rise}: the layers’ own, or the middle of what is possible.`,
  flow: 'The shower head gives',
  conflicts: {
    'at-one-value': (rule: string, at: string) =>
      `Least fall here and most fall of “${rule}” are both ${at}: one value alone keeps both, and no reading can prove it. Agree on a tolerance.`,
    never: (rule: string, least: string, most: string) =>
      `Nothing keeps both: the least here is ${least}, “${rule}” allows at most ${most}.`,
  },
  problems: {
    'drain-outside': 'The drain lies outside the room. Move it on the plan.',
    'drain-at-edge': 'The drain touches the edge, which cannot be level there: the floor is laid as one plane.',
  } as Record<string, string>,
  rules: 'Every rule beside the others',
  between: (least: string, most: string) => `${least} to ${most}`,
  atLeast: (least: string) => `at least ${least}`,
  atMost: (most: string) => `at most ${most}`,
  square: 'square to the drain',
  can: (needs: string, allows: string) => `A level edge of ${needs} to ${allows} keeps it.`,
  canFrom: (needs: string) => `A level edge of ${needs} or more keeps it.`,
  canEven: 'One even plane keeps it.',
  cannot: (needs: string, allows: string) =>
    `No level edge: the far corner needs ${needs}, the near wall allows ${allows}.`,
  cannotEven: 'No plane keeps it.',
  chosen: 'in force here',
  change: 'Choose another under Rules',
  marks: 'Marks round the walls',
  marksLead:
    'Each height is over the drain. Distances run along the wall from the corner where it meets the wall before it in this list; the first begins at the corner that everything is measured from.',
  wall: (name: string, length: string) => `${name} · ${length}`,
  across: (name: string) => `across from the ${name}`,
  wallN: (n: number) => `wall ${n}`,
  isEntry: 'entry line',
  flat: (height: string) => `${height} all along`,
  markAt: (height: string, along: string) => `${height} at ${along}`,
  entryOff:
    'The marks along the entry line are not at one height: water and wheels find it. Take a level edge, or turn the plane.',
  entry: 'Entry line as laid',
  entrySaid: (difference: string, high: string, low: string) =>
    `Out of level by ${difference}: ${high} high, ${low} low`,
  hold: 'Before water crosses the entry',
  holds: (volume: string, deepest: string) =>
    `The floor holds ${volume}, ${deepest} at its deepest, with the drain stopped.`,
  asRead: 'By the readings.',
  asDesigned: 'By the design, before the floor is laid.',
  lasts: (minutes: string, flow: string) => `That lasts ${minutes} minutes at ${flow}.`,
  correct: 'Put it right',
  fills: (count: number) => `Fill in ${counted(count, 'place')}`,
  none: 'Filling alone does not put it right.',
  fillAt: (depth: string, point: string) => `Fill ${depth} at ${point}`,
  fades: (points: string) => `Fading to nothing at ${points}.`,
  takes: (volume: string, fall: string) => `${volume} in all, to a fall of ${fall}.`,
  left: (runs: string) => `Too high at ${runs}: take it off, or relay it. No fill puts it right.`,
  checked: (doubtful: number): string =>
    doubtful > 0
      ? 'Checked again with the fills on it: nothing is out and no water stands. What was too close to call stays so: read the same points again, then those runs with a gauge.'
      : 'Checked again with the fills on it: nothing is out and no water stands.',
  notProposed: (out: number, ponds: number) =>
    `Not proposed: with these fills on it, ${counted(out, 'finding')} would still be out and water would stand in ${counted(ponds, 'place')}.`,
  again:
    'Read the same points again after filling. Flood test with a dam at the entry and a bucket beside it to show evaporation.',
  window: 'Where the drain may go',
  begin: 'A floor falls to a drain. Put the drain on the plan first.',
  trust: 'Fall rules are as read or recalled: check your edition. Local code decides.',
}
