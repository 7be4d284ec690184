import { spoken } from '../words/spoken.svelte'

/** Says it aloud in the language of the screens, where the platform can; what was being said is cut short. */
export function speak(text: string): void {
  const voice = globalThis.speechSynthesis
  if (!voice || !text) return
  voice.cancel()
  const utterance = new SpeechSynthesisUtterance(text)
  utterance.lang = spoken.locale
  voice.speak(utterance)
}
