import * as US from '../en-US/site'

export const terms: typeof US.terms = {
  ...US.terms,
  of: {
    ...US.terms.of,
    closing: ['Closing', 'The mark at the end less the mark at the start. Over 1.5 mm, do it again.'],
    crown: ['Hog', 'A joist that bows up over its own ends.'],
    twist: ['Wind', 'One top edge stands higher than the other. The higher one carries the sheet.'],
    strip: ['Packer', 'One continuous ripped piece on the joist, never loose packers here and there.'],
    sister: ['Double up', 'A straight second joist fixed beside the first, from bearing to bearing.'],
  },
}

export const sheet: typeof US.sheet = { ...US.sheet, units: { ...US.sheet.units, mm: 'All in millimetres.' } }
