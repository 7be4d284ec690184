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
  facets: (fine: string, flatter: string, steeper: string) =>
    `By its facets, without a verdict: ${fine} % of the floor falls as it should, ${flatter} % flatter, ${steeper} % steeper.`,
  facetsFrom: (gentlest: string, steepest: string) => `From ${gentlest} to ${steepest}; minus is backward.`,
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

/** What a cut list takes. */
export const cutting = {
  title: 'What it takes',
  see: 'Boards, shopping, order',
  order: 'Order of work',
  steps: {
    'ask-engineer': (joists: string) =>
      `Ask the engineer about ${joists}. Nothing is cut there before an approval is recorded.`,
    sister: (joists: string) =>
      `Sister ${joists}: straight, dry, bearing to bearing, its top no higher than the old tops.`,
    dress: (joists: string) => `Dress ${joists} as listed: nails pulled, cables and pipes found first.`,
    'read-again': (joists: string) => `Read the tops of ${joists} again, then look at this list again before ripping.`,
    rip: (joists: string) => `Rip the strips for ${joists}.`,
    fix: (joists: string) => `Glue and fix them on ${joists}, continuous, bearing all along.`,
    check: (joists: string) => `Read ${joists} again from the same points, and keep it as the after.`,
  },
  shopping: 'Shopping list',
  board: (count: number, width: string, length: string) =>
    `${counted(count, 'board')}, ${width} wide and ${length} long, as wide as the joist`,
  sister: (joist: string, depth: string, buy: string) =>
    `Sister for ${joist}: ${depth} deep, ${buy} long, dry and straight`,
  sisterCut: (length: string, bearing: string) => `Cut to ${length}: ${bearing} of bearing on each end.`,
  sheet: (joist: string, called: string, actual: string) => `Sheet for ${joist}: ${called}, which measures ${actual}`,
  sheetGap: (length: string, gap: string, left: string) => `${length} long under a gap of ${gap}; ${left} is left.`,
  sheetFull: (length: string, gap: string) => `${length} long for a gap of ${gap}.`,
  glue: 'Construction adhesive and fasteners, as their sheets say',
  nothing: 'Nothing to buy.',
  nesting: 'Strips on the boards',
  waste: (share: string, kerf: string) =>
    `${share} % of the boards becomes no strip, ${kerf} a cut for the saw included.`,
  boardN: (n: number) => `Board ${n}`,
  rip: (thickness: string) => `rip ${thickness}`,
  tooLarge: (strips: string) =>
    `No board of this size gives ${strips}. Get longer stock under Rules, or join over a bearing.`,
  measured: 'Measure the real stock: 3/8 plywood is often 11/32, and dressed lumber shrinks.',
  templates: 'Templates at full size (PDF)',
  making: 'Setting them…',
  templatesNote: 'Print at 100 %, measure both rulers on the page first.',
  made: (name: string) => `${name} is ready.`,
}

/** Where the drain may go. */
export const drain = {
  title: 'Where the drain may go',
  kind: 'Drain',
  kinds: { point: 'Point', linear: 'Linear' },
  free: (share: string) => `${share} % of the floor is free for it.`,
  noneFree: 'Nowhere on this floor: every place meets a joist or cannot fall.',
  nowhere: 'Keep it in the middle and move the whole shower by furring a wall, or take a linear drain.',
  slide: (by: string) =>
    `Kept in the middle of its shower, it clears if the whole shower moves ${by} across the joists: fur the wall out by as much or more.`,
  nearest: (distance: string) => `Nearest free place, ${distance} away`,
  here: 'At this place',
  x: 'From the side wall',
  y: 'From the base wall',
  bars: {
    free: 'free',
    wall: 'hole over a wall',
    joist: 'joist',
    fall: 'cannot fall',
    trap: 'trap arm too long',
  },
  isFree: 'Nothing stands against it.',
  why: {
    free: () => '',
    wall: () => 'Its hole reaches over a wall.',
    joist: (joists: string) => `Its hole meets ${joists}, or comes closer than it may: never cut a joist for a drain.`,
    fall: () => 'No level edge keeps both limits of the fall.',
    trap: () => 'Its trap arm is longer than you allow.',
  },
  cost: (needs: string, allows: string) => `The far corner needs ${needs}, the near wall allows ${allows}.`,
  steepest: (fall: string) => `With the least at the far corner, the near wall falls ${fall}.`,
  arm: (length: string) => `Trap arm ${length}, straight.`,
  hole: (hole: string, clearance: string) => `${hole} hole with ${clearance} to a joist: change it under Rules.`,
  stack: 'Waste pipe',
  stackNote: 'Where it goes down or is vented. Empty: the trap arm is not looked at.',
  arm2: 'Trap arm at most',
  arm2Note: 'From the plumbing code for its diameter. The licensed plumber decides.',
  map: (free: number) => `The floor from above, ${free} percent of it free for the drain.`,
  trust: 'Arithmetic on the plan. The plumbing code, the licensed plumber and the engineer decide.',
}

/** Benches, sills, shelves. */
export const ledges = {
  title: 'Ledges',
  start: 'Benches, niche sills, shelves, curb caps and window sills: none may hold water.',
  add: 'Add one',
  kinds: { bench: 'bench', niche: 'niche sill', shelf: 'shelf', curb: 'curb cap', sill: 'window sill' },
  name: 'What it is',
  depth: 'Depth, back to front',
  back: 'Back, down from the line',
  front: 'Front, down from the line',
  tilt: 'Or the level’s angle',
  tiltNote: 'Plus where water runs off its front.',
  remove: (name: string) => `Remove ${name}`,
  falls: (pitch: string, drop: string) => `falls ${pitch}, ${drop} over its depth`,
  backward: (pitch: string) => `falls ${pitch} toward the wall`,
  unread: 'not read yet',
  level: 'level',
  limits: (least: string, most: string) => `${least} to ${most}`,
  fix: 'Water stays on it: pitch it toward the drain before it is tiled.',
  trust: 'The pitch is common practice, editable under Rules; the standard asks for a slope and gives no figure.',
}

/** How tiles come out. */
export const tiles = {
  title: 'Tile layout',
  start: 'Equal cuts, no slivers, how many to order, the niche among the joints, lippage after setting.',
  begin: 'Start with a floor and a wall',
  tile: 'Tile',
  wide: 'Width',
  high: 'Height',
  joint: 'Joint',
  edge: 'Joint at the walls',
  edgeNote: 'A movement joint, filled with sealant, never with grout.',
  leastCut: 'Narrowest cut',
  waste: 'For waste',
  order: (count: number) => `Order ${count} tiles`,
  counted: (tiles: number, area: string) => `${tiles} pieces over ${area}, cuts counted whole.`,
  surface: 'Name',
  surfaceWide: 'Wide',
  surfaceHigh: 'High, or deep',
  across: 'Across',
  up: 'Up, or into the room',
  setOut: { balanced: 'equal cuts', 'whole-first': 'whole first', 'whole-last': 'whole last' },
  row: (whole: number, first: string, last: string) => `${counted(whole, 'whole tile')}, cuts ${first} and ${last}`,
  oneCut: (whole: number, cut: string) => `${counted(whole, 'whole tile')}, one cut ${cut}`,
  noCut: (whole: number) => `${counted(whole, 'whole tile')}, nothing cut`,
  sliver: 'A cut is narrower than you want: set it out with equal cuts, or change the joint.',
  comes: (tiles: number, cut: number) => `${counted(tiles, 'piece')}, ${cut} of them cut`,
  addSurface: 'Add a floor or wall',
  removeSurface: (name: string) => `Remove ${name}`,
  floor: 'floor',
  wall: 'back wall',
  fresh: 'wall',
  bed: 'Mortar',
  notch: (notch: string, bed: string) => `Notch ${notch}: about ${bed} of bed, common practice by the tile’s size.`,
  contact: (wet: string) => `${wet} % of each back touched where it gets wet: lift one now and then and look.`,
  butter: 'Large tile: butter its back too.',
  mortar: (volume: string) => `About ${volume} of mortar.`,
  niche: 'Niche',
  nicheAdd: 'Put a niche in the first wall',
  nicheOff: 'No niche',
  nicheWide: 'Unit wide',
  nicheHigh: 'Unit high',
  clearance: 'Clearance around',
  nicheAcross: 'Middle, from the wall’s end',
  nicheUp: 'Middle, from the floor',
  onModule: 'Begin at a joint',
  onModuleOptions: { yes: 'at a joint', no: 'as wanted' },
  opening: (from: string, to: string, foot: string, head: string) =>
    `Frame the opening from ${from} to ${to}, ${foot} to ${head} up.`,
  moved: (across: string, up: string) => `Moved ${across} across and ${up} up to the joints.`,
  buildOut: 'A thinner tile beside it',
  buildOutAdd: 'Bring a thinner tile flush',
  thick: 'Its neighbor, tile',
  thickBed: 'and its bed',
  thin: 'The thinner, tile',
  thinBed: 'and its bed',
  out: (by: string) => `Build it out ${by}.`,
  in: (by: string) => `It already stands ${by} proud.`,
  lippage: 'Lippage after setting',
  lippageRule: 'Judged by',
  warpage: 'The tile’s own warp',
  place: 'Where',
  step: 'Step',
  jointThere: 'Joint there',
  addStep: 'Add a place',
  removeStep: (place: string) => `Remove ${place}`,
  stepAt: (step: string, place: string) => `${step} ${place}`,
  stepMost: (limit: string) => `at most ${limit}`,
  noLimit: 'the rule knows no joint this narrow',
  drawing: (name: string, columns: number, rows: number) => `${name}: ${columns} columns and ${rows} rows.`,
  trust: 'Common practice and rules as read. The tile’s and the mortar’s sheets decide.',
}

/** What the hall and the door leave. */
export const atTheDoor = {
  title: 'What the door leaves',
  none: 'Nothing is said yet of what the door leaves.',
  own: (budget: string) => `The plan says the floor may rise ${budget}; that counts.`,
  leaves: (budget: string) => `The hall and the door leave ${budget} to rise.`,
  hall: 'Hall’s finished floor',
  buildUp: 'Subfloor, layers and tile to come',
  edge: 'Door’s lower edge over the hall',
  gap: 'Gap to leave under it',
  over: 'The first two over the joists as they were read at the doorway. No step up into the room, and the door swings clear.',
}

/** How clear spans stand beside common ones. */
export const stiffness = {
  title: 'Stiffness: an indication',
  lead: 'Is it stiff enough for the tile? Bounce is for your heels, strength for an engineer. This only lays your spans beside common tables for the weakest common wood, 40 and 10 lb/ft², recalled, not read.',
  row: (joists: string, span: string, depth: string, spacing: string) =>
    `${joists}: ${span} clear, ${depth} deep, ${spacing} apart`,
  reaches: (ratio: number, longest: string) => `L/${ratio}: no longer than the common ${longest}`,
  beyond: (ratio: number, longest: string) => `L/${ratio}: longer than the common ${longest}: ask an engineer`,
  of: { 360: 'ceramic and porcelain', 720: 'stone' } as Record<number, string>,
  notSawn: (joists: string) => `${joists}: not sawn, so the maker’s own tables count.`,
  whole: 'The clear span counts, however little of it is tiled. Notches, holes, rot and loads above are not in it.',
}
