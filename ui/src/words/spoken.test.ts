import { expect, test } from 'vitest'
import { languageFor, localeFor, spoken } from './spoken.svelte'

test.each([
  [['es-MX', 'en-US'], 'es'],
  [['en-GB'], 'en-AU'],
  [['en-NZ'], 'en-AU'],
  [['en'], 'en-US'],
  [['fr-FR', 'es-ES'], 'es'],
  [['de-DE'], 'en-US'],
  [[], 'en-US'],
] as const)('who prefers %j hears %s', (preferred, language) => {
  expect(languageFor(preferred)).toBe(language)
})

test.each([
  ['es', ['es-MX'], 'es-MX', '.'],
  ['es', ['en-US', 'es-ES'], 'es-ES', ','],
  ['es', ['en-US'], 'es', ','],
  ['en-US', ['es-ES'], 'en-US', '.'],
] as const)('%s on a device of %j writes numbers as in %s', (language, preferred, locale, mark) => {
  expect(localeFor(language, preferred)).toBe(locale)
  spoken.locale = locale
  expect(spoken.mark).toBe(mark)
})
