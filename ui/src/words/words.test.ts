import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { languages } from '.'
import { roomPages } from '../router'
import { behindLines } from '../screens/behind/kinds'
import { lookLines, testLines } from '../screens/tests/kinds'

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

/** The figures that the core knows, by their ids, as its source names them. */
function figures(): string[] {
  const source = readFileSync(join(src, '../../src-tauri/crates/judge/src/room/rules/id.rs'), 'utf8')
  return [...source.matchAll(/ = "([^"]+)",/g)].map(([, id]) => id!)
}

test('every figure has a name in every language, and no name is left of one that is gone', () => {
  expect(figures().length).toBeGreaterThan(40)
  for (const words of Object.values(languages)) expect(Object.keys(words.rules.names).sort()).toEqual(figures().sort())
})

test('every line of a form has a name', () => {
  const lines = [testLines, lookLines, behindLines].flatMap((forms) => Object.values(forms).flat())
  const { fields, options } = languages['en-US'].entry
  expect(Object.keys(fields)).toEqual(expect.arrayContaining(lines.map(({ key }) => key)))
  expect(Object.keys(options)).toEqual(expect.arrayContaining(lines.flatMap(({ of }) => of ?? [])))
})

test('every page of a room is looked at by the browser tests, and a key leads to it', () => {
  const looked = readFileSync(join(src, '../../tests/browser/screens.mjs'), 'utf8')
  const places = screens.filter((path) => path !== 'App.svelte')
  const ways = places.map((path) => readFileSync(join(src, path), 'utf8')).join('')
  const pages = roomPages.filter((page) => page !== 'room')
  expect(pages.filter((page) => !new RegExp(`(, '|#/)${page}[/']`).test(looked))).toEqual([])
  expect(pages.filter((page) => !ways.includes(`'${page}'`))).toEqual([])
})
