/** Calling readings between two people. */
export const call = {
  on: 'Call out',
  off: 'Stop calling out',
  turn: 'Turn the display',
  point: (point: string) => point,
  said: (point: string, number: string) => `${point}: ${number}.`,
  next: (point: string) => `Next, ${point}.`,
  number: (text: string) => text.replace(/(\d)-(\d+\/)/, '$1 and $2'),
  closing: 'Now the mark again.',
  speak: 'Say the number',
  listening: 'Listening …',
  heard: (number: string) => `${number}. Next keeps it.`,
  notHeard: (said: string) => (said ? `“${said}” is no number. Say it again, or tap it.` : 'Nothing heard. Tap it.'),
  away: 'This device may send your voice to its maker to be understood.',
}

/** Practising with a level and a tape drawn on the glass. */
export const practice = {
  start: 'Practise for five minutes',
  note: 'An invented room; the tape is drawn on the glass. Read where the line crosses, tap it, next.',
  room: 'Practice room',
  tape: (number: string) => `The line crosses the tape at ${number}.`,
}

/** The sheet that is filled by pencil and typed in later. */
export const sheet = {
  title: 'Field sheet',
  lead: 'Print it, fill it in by pencil, type it in later.',
  print: 'Print',
  room: 'Room',
  date: 'Date',
  by: 'Read by',
  instrument: 'Instrument and tape',
  mark: 'Mark',
  start: 'At the start',
  close: 'At the close',
  bumped: 'Bumped? Read the mark again:',
  sense: { down: 'Down from the line: bigger is lower', up: 'Up from the mark: bigger is higher' },
  units: { in: 'All in inches.', mm: 'All in millimeters.' },
  repeat: 'Read one point five times:',
  framing: 'Framing: bounce · rot · cut, notched, split · wet · size · span · photographs',
  none: 'This room has no points to read yet.',
  record: 'On paper',
  recordLead: 'A sheet of all points for pencil and clipboard.',
}

/** Words of the trade, one line and a drawing each. */
export const terms = {
  title: 'Words and drawings',
  sub: 'what they mean here',
  here: 'What these words mean',
  of: {
    down: [
      'Down from the line',
      'Rule on the joist, read where the middle of the line crosses. The bigger number is the lower place.',
    ],
    benchmark: [
      'Mark',
      'Something that will not move. Read it first and last: the two readings differ if anything moved.',
    ],
    closing: ['Closing', 'The mark at the end less the mark at the start. Over a sixteenth, do it again.'],
    crown: ['Crown', 'A joist that bows up over its own ends.'],
    sag: ['Sag', 'A joist that hangs below its own ends.'],
    twist: ['Twist', 'One top edge stands higher than the other. The higher one carries the sheet.'],
    rest: ['The rest', 'The even slope of all joists that are straight. A high or low joist is told against it.'],
    straightedge: ['Straightedge', 'A rigid bar resting on two high points. The gap is taken between them.'],
    close: ['Too close to call', 'The limit lies inside the uncertainty. Read again, or use a gauge.'],
    strip: ['Strip', 'One continuous ripped piece on the joist, never packs here and there.'],
    sister: ['Sister', 'A straight second joist fixed beside the first, from bearing to bearing.'],
    third: ['Middle third', 'Where a joist works hardest. Nothing is cut off its top there without an approval.'],
  } as Record<string, [string, string]>,
}
