import { spoken } from '../words/spoken.svelte'

/** What is used of a platform's way to understand speech. */
interface Recognition {
  lang: string
  interimResults: boolean
  maxAlternatives: number
  /** Understood on this device alone, where the platform has learned that. */
  processLocally?: boolean
  onresult: ((event: { results: ArrayLike<ArrayLike<{ transcript: string }>> }) => void) | null
  onerror: (() => void) | null
  onend: (() => void) | null
  start(): void
  abort(): void
}

type Platform = { SpeechRecognition?: new () => Recognition; webkitSpeechRecognition?: new () => Recognition }

function made(): Recognition | undefined {
  const { SpeechRecognition, webkitSpeechRecognition } = globalThis as Platform
  const Kind = SpeechRecognition ?? webkitSpeechRecognition
  return Kind && new Kind()
}

/** Whether the platform can listen at all. */
export function canListen(): boolean {
  const { SpeechRecognition, webkitSpeechRecognition } = globalThis as Platform
  return (SpeechRecognition ?? webkitSpeechRecognition) !== undefined
}

/** One ear: it listens when it is asked to, once, and says what it heard. */
export class Listening {
  on = $state(false)
  #ear: Recognition | undefined

  /** Listens; `heard` gets the likeliest words first, and nothing where nothing was heard. */
  start(heard: (said: string[]) => void): void {
    this.stop()
    const ear = made()
    if (!ear) return
    let told = false
    const tell = (said: string[]) => {
      if (told || this.#ear !== ear) return
      told = true
      this.on = false
      heard(said)
    }
    ear.lang = spoken.locale
    ear.interimResults = false
    ear.maxAlternatives = 4
    ear.onresult = ({ results }) => tell(Array.from(results[0] ?? [], ({ transcript }) => transcript))
    ear.onerror = () => tell([])
    ear.onend = () => tell([])
    this.#ear = ear
    this.on = true
    try {
      ear.start()
    } catch {
      tell([])
    }
  }

  stop(): void {
    const ear = this.#ear
    this.#ear = undefined
    this.on = false
    ear?.abort()
  }
}
