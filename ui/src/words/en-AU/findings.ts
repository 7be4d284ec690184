import { capital } from '../en-US/count'
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
    fallRow: (line, oneIn) => `${capital(line)} falls to the waste: 1 in ${oneIn}`,
    fallRun: (from, oneIn) => `From ${from} it falls to the waste: 1 in ${oneIn}`,
    backward: (from) => `From ${from} it falls backward, away from the waste`,
    blunder: (point) => `${point} does not fit its neighbours`,
  },
}

export const map: typeof US.map = { ...US.map, drain: 'waste' }

export const profile: typeof US.profile = US.profile
