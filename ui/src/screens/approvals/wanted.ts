import type { HeightView } from '../../bridge/generated/HeightView'

/** The alternative that wants a cut of this joist: the one that is chosen before any other. */
export function wantedBy({ alternatives, chosen }: HeightView, joist: string): string | undefined {
  const wants = alternatives.filter(({ joists }) =>
    joists.some(({ id, why }) => id === joist && why.some(({ cut, kind }) => cut || kind === 'old-top-above')),
  )
  return (wants.find(({ name }) => name === chosen) ?? wants[0])?.name
}
