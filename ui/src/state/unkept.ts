import type { Draft } from './draft'

const KEY = (room: string) => `truefall-draft-${room}`

/** The draft of a plan as it was left before it was kept: the phone went dark, or one went back. */
export function unkept(room: string): Draft | undefined {
  try {
    const text = localStorage.getItem(KEY(room))
    const draft = text ? (JSON.parse(text) as Draft) : undefined
    return draft && Array.isArray(draft.fixtures) ? draft : undefined
  } catch {
    return undefined
  }
}

/** Puts a draft aside, or forgets it. */
export function putAside(room: string, draft: Draft | undefined): void {
  try {
    if (draft) localStorage.setItem(KEY(room), JSON.stringify(draft))
    else localStorage.removeItem(KEY(room))
  } catch {
    // A browser that keeps nothing begins anew.
  }
}
