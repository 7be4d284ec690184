import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'

const css = readFileSync(new URL('./theme.css', import.meta.url), 'utf8')
const themes = { light: tokensIn(':root'), dark: tokensIn(":root[data-theme='dark']") }

/** The colours that the first rule for this selector sets. */
function tokensIn(selector: string): Record<string, string> {
  const rule = css.split(`${selector} {`)[1]?.split('}')[0] ?? ''
  return Object.fromEntries([...rule.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]))
}

/** Relative luminance and contrast as WCAG 2.2 defines them. */
function luminance(colour: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const part = parseInt(colour.slice(at, at + 2), 16) / 255
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
  }) as [number, number, number]
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number]
  return (light + 0.05) / (dark + 0.05)
}

/** On each ground, what stands on it; the first list is the text of Readings. */
const sevens: Record<string, string[]> = {
  paper: ['ink', 'quiet', 'chalk', 'step'],
  sheet: ['ink', 'quiet', 'chalk', 'step'],
  'chalk-wash': ['ink', 'chalk'],
  'high-wash': ['ink'],
  chalk: ['paper'],
  ink: ['paper'],
}
const fours: Record<string, string[]> = {
  paper: ['flush', 'open', 'low', 'high'],
  sheet: ['flush', 'open', 'low', 'high'],
  'low-wash': ['ink'],
}
const threes: Record<string, string[]> = {
  paper: ['edge'],
  sheet: ['edge'],
  'high-wash': ['high'],
  'low-wash': ['low'],
}

test('the measure itself: black on white is 21, the grey of the standard 4.54', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6)
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2)
})

describe.each(Object.entries(themes))('%s', (_, tokens) => {
  const pairs = (list: Record<string, string[]>, least: number) =>
    Object.entries(list).flatMap(([ground, marks]) => marks.map((mark) => [mark, ground, least] as const))
  test.each([...pairs(sevens, 7), ...pairs(fours, 4.5), ...pairs(threes, 3)])(
    '%s on %s is at least %s',
    (a, b, least) => {
      expect(contrast(tokens[a]!, tokens[b]!)).toBeGreaterThanOrEqual(least)
    },
  )
})

test('both themes set the same colours', () => {
  expect(Object.keys(themes.dark)).toEqual(Object.keys(themes.light))
})
