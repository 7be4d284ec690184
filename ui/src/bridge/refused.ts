import type { Refusal } from './generated/Refusal'

/** Beside the core's own reasons: it could not be reached; or it is away, and this needs it. */
type Kind = Refusal['kind'] | 'no-link' | 'away'

/** Why the core did not do it, or that it could not be reached. */
export class Refused extends Error {
  readonly kind: Kind
  readonly field: string | undefined
  readonly retry: boolean

  constructor(refusal: Omit<Refusal, 'kind'> & { kind: Kind }) {
    super(refusal.message)
    this.kind = refusal.kind
    this.field = refusal.field
    this.retry = refusal.retry ?? false
  }
}

/** Whatever was thrown, as a `Refused`. */
export function refusedBy(thrown: unknown): Refused {
  if (thrown instanceof Refused) return thrown
  const given = typeof thrown === 'string' ? parsed(thrown) : thrown
  if (isRefusal(given)) return new Refused(given)
  return new Refused({ kind: 'no-link', message: thrown instanceof Error ? thrown.message : '', retry: true })
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

function isRefusal(given: unknown): given is Refusal {
  return typeof given === 'object' && given !== null && 'kind' in given && 'message' in given
}
