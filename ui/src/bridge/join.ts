import type { CrewJoin } from './generated/CrewJoin'
import { refusedBy } from './refused'

/** Trades a code for a key of this device's own, which the browser keeps where no script can read it. */
export async function join(ask: CrewJoin): Promise<void> {
  const headers = { 'content-type': 'application/json' }
  const answer = await fetch('/join', { method: 'POST', body: JSON.stringify(ask), headers })
  if (!answer.ok) throw refusedBy(await answer.text())
}
