import * as plans from '../en-US/plan'
import * as US from '../en-US/readings'

export const plan: typeof plans.plan = {
  ...plans.plan,
  fixtures: { ...plans.plan.fixtures, tub: 'Bath' },
  templates: { ...plans.plan.templates, bath: 'Bathroom on open joists' },
  spacing: 'Centres',
  whats: { ...plans.plan.whats, fall: 'Fall to a waste' },
  drain: 'Waste',
  drainRuns: 'The waste runs',
  second: 'A second waste',
  drainOutside: 'The waste lies outside the walls.',
}

export const readings: typeof US.readings = {
  ...US.readings,
  strong: 'full',
  shy: 'bare',
  unusual: 'A hog, or a slip? Next keeps it.',
}
