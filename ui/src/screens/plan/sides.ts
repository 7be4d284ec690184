import { outlineOf, type Draft } from '../../state/draft'
import { sidesOf } from '../../state/outline'
import { called, words } from '../../words'

/** What a wall of the room is called: by the two named walls where it lies along or across from one, else by its corners. */
export function sideName(draft: Draft, index: number): string {
  const say = words()
  const outline = outlineOf(draft)
  const [[x, y], [u, v]] = sidesOf(outline)[index]!
  const [right, far] = [draft.width, draft.depth]
  const on = (at: number, wall: number) => Math.abs(at - wall) < 1
  if (on(y, 0) && on(v, 0)) return called(draft.baseWall)
  if (on(x, 0) && on(u, 0)) return called(draft.sideWall)
  if (on(x, right) && on(u, right)) return say.fall.across(called(draft.sideWall))
  if (on(y, far) && on(v, far)) return say.fall.across(called(draft.baseWall))
  return say.plan.between(index + 1, ((index + 1) % outline.length) + 1)
}
