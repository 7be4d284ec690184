import type { Bridge } from './bridge'
import type { Changes } from './generated/Changes'
import { refusedBy, Refused } from './refused'

/** Some changes were not heard: any room may have changed. */
const ANY_ROOM = { room: '', seq: 0 }

/** What the core answers at once: a link that takes longer is none. */
const QUICK = ['write', 'undo', 'entry', 'length', 'room', 'rooms', 'crew', 'crew-here']

/**
 * The core behind the host that served this page. The page's cookie says who asks. Over the air a quick request is given
 * up after so many milliseconds of `patience`; on this machine it is waited for.
 */
export function httpBridge(patience?: number): Bridge {
  const listeners = new Set<(changes: Changes) => void>()
  let source: EventSource | undefined
  return {
    async ask(name, body) {
      const most = patience && QUICK.includes(name) ? AbortSignal.timeout(patience) : undefined
      const answer = await post(`/dispatch/${name}`, JSON.stringify(body), most)
      const text = await answer.text()
      if (!answer.ok) throw refused(text, answer.status)
      return JSON.parse(text)
    },
    onChange(listener) {
      listeners.add(listener)
      source ??= listen((changes) => listeners.forEach((listener) => listener(changes)))
      return () => listeners.delete(listener)
    },
  }
}

/** How long a stream that the host ended is left alone, in milliseconds. */
const AGAIN = 5000

/** The stream of changes. One serves the whole page: a browser keeps few connections to one host. */
function listen(tell: (changes: Changes) => void, before = false): EventSource {
  let lost = before
  let heard = before
  const source = new EventSource('/changes')
  source.addEventListener('changes', (event: MessageEvent<string>) => tell(JSON.parse(event.data)))
  source.addEventListener('missed', () => tell(ANY_ROOM))
  source.addEventListener('error', () => {
    // A lost link is told once, so that screens say it before anything is entered.
    if (!lost) tell(ANY_ROOM)
    lost = true
    if (heard && source.readyState === EventSource.CLOSED) setTimeout(() => listen(tell, true), AGAIN)
  })
  source.addEventListener('open', () => {
    if (lost) tell(ANY_ROOM)
    lost = false
    heard = true
  })
  return source
}

async function post(url: string, body: string, signal?: AbortSignal): Promise<Response> {
  try {
    return await fetch(url, {
      method: 'POST',
      body,
      headers: { 'content-type': 'application/json' },
      credentials: 'same-origin',
      ...(signal && { signal }),
    })
  } catch (thrown) {
    throw new Refused({ kind: 'no-link', message: thrown instanceof Error ? thrown.message : '', retry: true })
  }
}

/** The refusal in the answer; an answer that holds none is no answer from the core. */
function refused(text: string, status: number): Refused {
  const refusal = refusedBy(text)
  if (refusal.kind !== 'no-link') return refusal
  return new Refused({ kind: 'no-link', message: `${status}`, retry: status >= 500 })
}
