// The hall bath of the first demo room as it is read on site: its plan, and what the tape says at each point.
const INCH = 25.4
const stations = [0, 30, 60, 90]

/** Down from the line, joist by joist, station by station. */
export const readings = {
  J1: ['44-1/8', '44-3/16', '44-3/16', '44-1/8'],
  J2: ['44-3/16', '44-1/4', '44-5/16', '44-3/16'],
  J3: ['44-1/4', '44-1/4', '44-1/4', '44-1/4'],
  J4: ['44-1/4', '44', '43-7/8', '44-3/16'],
  J5: ['44-5/16', '44-7/16', '44-1/2', '44-3/8'],
  J6: ['44-3/8', '44-7/8', '45', '44-1/2'],
  J7: ['44-7/16', '44-1/2', '44-9/16', '44-1/2'],
}

/** The readings in walking order: the point, and the text. */
export const walk = Object.entries(readings).flatMap(([joist, texts]) =>
  texts.map((text, i) => ({ joist, point: `${joist}@${stations[i]}`, text })),
)

export const plan = {
  outline: [
    [0, 0],
    [112 * INCH, 0],
    [112 * INCH, 96 * INCH],
    [0, 96 * INCH],
  ],
  base_wall: 'door wall',
  side_wall: 'left wall',
  joists_along: 'y',
  joists: Object.keys(readings).map((id, i) => ({
    id,
    at: (8 + 16 * i) * INCH,
    kind: 'sawn',
    depth: 9.25 * INCH,
    span: 138 * INCH,
    first_bearing: -24 * INCH,
  })),
  doorway: { from: 8 * INCH, to: 40 * INCH, budget: 0.375 * INCH },
  surveys: [{ id: 'joists', name: 'joists as found', surface: 'framing' }],
  points: Object.keys(readings).flatMap((joist, i) =>
    stations.map((station) => ({
      id: `${joist}@${station}`,
      survey: 'joists',
      x: (8 + 16 * i) * INCH,
      y: station * INCH,
      joist,
    })),
  ),
}
