import type { Words } from '.'

/** The field of a refusal, by its path, as its label stands on a screen. */
export function fieldNamed(field: string, said: Words): string | undefined {
  const path = field.replace(/\[\d+\]/g, '')
  const entry = path.startsWith('entry.what.') ? path.slice('entry.what.'.length) : undefined
  return entry === undefined ? labels(said)[path] : said.entry.fields[entry.split('.').at(-1)!]
}

const labels = (said: Words): Record<string, string> => ({
  'tile.longest_edge': said.rules.tileEdge,
  'approval.depth': said.approvals.depth,
  'approval.to': said.approvals.to,
  'approval.by': said.approvals.who,
  'approval.date': said.approvals.date,
  'approval.reference': said.approvals.reference,
  'plan.joists.depth': said.plan.size,
  'plan.joists.span': said.plan.span,
  'pour: depth': said.pour.over,
  'pour: rise': said.pour.rise,
  'pour: yield of a bag': said.pour.yield,
  'pour: a bag': said.pour.bagWeight,
  'pour: waste': said.pour.waste,
  'pour: least depth': said.pour.least,
  'pour: greatest depth': said.pour.most,
  'pour: load': said.pour.loadMost,
  'fall: rise': said.fall.rise,
  'fall: flow': said.fall.flow,
  'fall: trap arm': said.drain.arm2,
  'fall: trough': said.drain.trough,
  'fall: waste pipe': said.drain.stack,
  'door: hall': said.atTheDoor.hall,
  'door: build-up': said.atTheDoor.buildUp,
  'door: lower edge': said.atTheDoor.edge,
  'door: gap': said.atTheDoor.gap,
  'layers: deck': said.buildUp.deck,
  'layers: membrane lap': said.buildUp.lap,
  'layers: riser, pipe': said.buildUp.riser.pipe,
  'layers: riser, body': said.buildUp.riser.body,
  'tile: width': said.tiles.wide,
  'tile: height': said.tiles.high,
  'tile: joint': said.tiles.joint,
  'tile: joint at the walls': said.tiles.edge,
  'tile: narrowest cut': said.tiles.leastCut,
  'tile: waste': said.tiles.waste,
  'tile: warpage': said.tiles.warpage,
  'niche: width': said.tiles.nicheWide,
  'niche: height': said.tiles.nicheHigh,
  'niche: clearance': said.tiles.clearance,
  'lippage: step': said.tiles.step,
  'lippage: joint': said.tiles.jointThere,
  'build-out: tile': said.tiles.thick,
  'build-out: thinner tile': said.tiles.thin,
  name: said.entry.fields.name!,
  accuracy: said.devices.lesson.accuracy,
  decimals: said.devices.lesson.decimals,
})
