import * as US from '../en-US/findings'

export const findings: typeof US.findings = {
  ...US.findings,
  todo: {
    ...US.findings.todo,
    blunder: (point) => `*Read ${point} again:* it does not fit its neighbours.`,
  },
  say: {
    ...US.findings.say,
    crown: (joist, at) => `${joist} hogs over its own ends, most at ${at}`,
    twist: (joist, at) => `${joist} is in wind: its two edges differ at ${at}`,
    blunder: (point) => `${point} does not fit its neighbours`,
  },
}

export const map: typeof US.map = { ...US.map, drain: 'waste' }

export const profile: typeof US.profile = US.profile
