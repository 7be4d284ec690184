import type { Refused } from '../bridge/refused'
import { enAU } from './en-AU'
import { enUS } from './en-US'
import { es } from './es'
import { fieldNamed } from './fields'
import { spoken, type Language } from './spoken.svelte'

/** Every word the screens can say. Another language is one more file of this form, named in `languages`. */
export type Words = typeof enUS

export const languages: Record<Language, Words> = { 'en-US': enUS, 'en-AU': enAU, es }

/** The words of the language that is spoken. */
export function words(): Words {
  return languages[spoken.language]
}

/** A name that a screen once proposed, in the language that is spoken now; any other name as it is. */
export function called(name: string): string {
  const own = words().defaults
  if (keyIn(own, name)) return name
  const key = keyOf(name)
  return key ? own[key as keyof typeof own] : name
}

/** Which of the proposed names it is, in any language; nothing where somebody chose it. */
export function keyOf(name: string): string | undefined {
  const all = Object.values(languages).map(({ defaults }) => keyIn(defaults, name))
  return all.find(Boolean)
}

function keyIn(defaults: Record<string, string>, name: string): string | undefined {
  const plain = name.toLowerCase()
  return Object.entries(defaults).find(([, proposed]) => proposed.toLowerCase() === plain)?.[0]
}

/** Why something was not done, in the language that is spoken. */
export function saidWhy({ kind, message, field }: Pick<Refused, 'kind' | 'message'> & { field?: string }): string {
  if (kind === 'away') return words().crew.needsHome
  if (kind === 'no-link') return words().asked.noLink
  return words().refusal(kind, message, field && fieldNamed(field, words()))
}

/** Where a figure comes from: the core's own words for it, as far as the language has them. */
export function clause(text: string): string {
  return words().clauses[text] ?? text
}
