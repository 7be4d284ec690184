import type { FindingsView } from '../../bridge/generated/FindingsView'

/** The findings with what noise alone would show, as far as it is known by now. */
export function withNoise(view: FindingsView, drawn: FindingsView | undefined): FindingsView {
  const known = drawn?.findings.filter((finding) => finding.noise_alone) ?? []
  if (known.length === 0) return view
  const findings = view.findings.map((finding) => {
    const same = known.find(
      ({ kind, subject, reach }) => kind === finding.kind && subject === finding.subject && reach === finding.reach,
    )
    return same ? { ...finding, noise_alone: same.noise_alone } : finding
  })
  return { ...view, findings }
}
