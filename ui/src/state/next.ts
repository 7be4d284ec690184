import type { RoomView } from '../bridge/generated/RoomView'
import type { Route } from '../router'
import { called, words } from '../words'
import { nameOf, nextUnread, surveyOf } from './room.svelte'

/** What is to be done next in a room: the sentence, and the way there. */
export type Next = { label: string; to: Route }

export function nextIn(view: RoomView): Next {
  const say = words().room.nextIs
  const { id: room, units } = view.room
  const survey = surveyOf(view)
  if (!view.plan || !survey) return { label: say.plan, to: { page: 'plan', room } }
  const readings: Route = { page: 'readings', room, part: survey.id }
  if (unlooked(view) && !view.surveys.some(({ read }) => read > 0))
    return { label: say.structure, to: { page: 'structure', room } }
  const open = view.setups.some(({ setup }) => setup.survey === survey.id && !setup.closing)
  const point = nextUnread(survey.points)
  if (point && open) return { label: say.read(nameOf(point, units)), to: readings }
  if (point) return { label: say.open(called(survey.name)), to: readings }
  if (open) return { label: say.close, to: readings }
  return { label: say.findings, to: { page: 'findings', room } }
}

/** Whether there is framing that nobody has looked at. */
function unlooked(view: RoomView): boolean {
  const joists = (view.plan?.joists.length ?? 0) > 0
  return joists && view.gate.length > 0 && view.gate.every(({ answer }) => !answer)
}
