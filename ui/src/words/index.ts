import { enUS } from './en-US'

/** Every word the screens can say. Another language is one more file of this form, named in `languages`. */
export type Words = typeof enUS

export const languages: Record<string, Words> = { 'en-US': enUS }

/** The words of the language that is spoken. */
export function words(): Words {
  return enUS
}
