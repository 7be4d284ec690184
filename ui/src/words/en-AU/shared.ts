import * as US from '../en-US/shared'

export const unitNames: typeof US.unitNames = { ...US.unitNames, mm: 'Millimetres' }
