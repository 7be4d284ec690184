import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { languages } from '.'

const src = fileURLToPath(new URL('..', import.meta.url))
const screens = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.svelte'))

/** Words between tags and in the attributes that are read out, outside braces. */
function looseWords(svelte: string): string[] {
  let bare = svelte.replace(/<(script|style)[\s\S]*?<\/\1>|<!--[\s\S]*?-->/g, '')
  for (let before = ''; before !== bare;) [before, bare] = [bare, bare.replace(/\{[^{}]*\}/g, '')]
  const shown = bare.split(/<[^>]*>/)
  const spoken = [...bare.matchAll(/(?:aria-label|title|placeholder|alt)="([^"]*)"/g)].map(([, text]) => text!)
  return [...shown, ...spoken].map((text) => text.trim()).filter((text) => /\p{L}{2}/u.test(text))
}

test('the test sees words where there are some', () => {
  expect(looseWords('<p>{count} readings</p>')).toEqual(['readings'])
  expect(looseWords('<b title="High">{#if a > b}{words().x}{/if}</b>')).toEqual(['High'])
  expect(looseWords('<script>const a = "High"</script><p>{words().x({ a: `${b}` })} ·</p>')).toEqual([])
})

test.each(screens)('%s holds no words of its own', (path) => {
  expect(looseWords(readFileSync(join(src, path), 'utf8'))).toEqual([])
})

/** Every word of a language by its path; a sentence with figures counts as its function. */
function paths(words: object, before = ''): string[] {
  return Object.entries(words).flatMap(([key, value]) => {
    const path = `${before}${key}`
    return typeof value === 'object' && value !== null ? paths(value, `${path}.`) : [`${path}: ${typeof value}`]
  })
}

test('every language says everything', () => {
  const [first, ...others] = Object.values(languages).map((words) => paths(words))
  expect(first!.length).toBeGreaterThan(100)
  for (const other of others) expect(other).toEqual(first)
})
