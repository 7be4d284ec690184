import type { FindingsView } from '../../bridge/generated/FindingsView'
import type { NoiseUnderBar } from '../../bridge/generated/NoiseUnderBar'

/** The findings with what noise alone would show under the worst bar, once that is known. */
export function withNoise(view: FindingsView, under: NoiseUnderBar | null | undefined): FindingsView {
  if (!under) return view
  const findings = view.findings.map((finding) => {
    const { kind, subject, reach } = finding
    const same = kind === under.kind && subject === under.subject && reach === under.reach
    return same ? { ...finding, noise_alone: under.noise_alone } : finding
  })
  return { ...view, findings }
}
