/** The languages the screens speak. */
export const LANGUAGES = ['en-US', 'en-AU', 'es'] as const
export type Language = (typeof LANGUAGES)[number]

/** The language that is spoken now, and the manner in which numbers and dates are written. */
class Spoken {
  language = $state<Language>('en-US')
  locale = $state('en-US')
  /** What stands before decimals: a point or a comma. */
  mark = $derived(markOf(this.locale))
}

export const spoken = new Spoken()

function markOf(locale: string): string {
  const parts = new Intl.NumberFormat(locale).formatToParts(1.5)
  return parts.find(({ type }) => type === 'decimal')?.value ?? '.'
}

/** The language for someone who prefers these, best first: `es-MX` is Spanish, `en-GB` that of the UK and Australia. */
export function languageFor(preferred: readonly string[]): Language {
  for (const tag of preferred) {
    const [language, ...rest] = tag.toLowerCase().split('-')
    if (language === 'es') return 'es'
    if (language === 'en') return rest.includes('us') || rest.length === 0 ? 'en-US' : 'en-AU'
  }
  return 'en-US'
}

/** How numbers are written in a language: as the person's device has it where it speaks that language. */
export function localeFor(language: Language, preferred: readonly string[]): string {
  const spoken = language.split('-')[0]!
  return preferred.find((tag) => tag.toLowerCase().split('-')[0] === spoken) ?? language
}
