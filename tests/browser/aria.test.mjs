// What a screen reader is told of the screens that are used on the knees: roles, names and states in their order, as
// they are kept in the folder `aria`. UPDATE=1 writes them anew.
import assert from 'node:assert/strict'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { test } from 'node:test'
import { fileURLToPath } from 'node:url'
import { bench } from './bench.mjs'
import { openPage } from './host.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'

const folder = fileURLToPath(new URL('aria/', import.meta.url))
const kept = [
  'room-fresh',
  'plan',
  'structure',
  'readings-set-up',
  'readings',
  'readings-mm',
  'readings-closed',
  'findings',
  'straightedge',
  'tilt',
  'tilt-walked',
  'another',
  'chalk',
  'compare',
  'checks',
]

let page, all
bench(async (on) => {
  page = await openPage(on.browser, on.host.address)
  all = screens({ ...(await furnish(page)), half: await halfRead(page), halfMm: await halfReadMm(page) })
})

/** The tree of the page without the addresses of its links, which name rooms made for this run. */
async function heard() {
  const tree = await page.locator('main').ariaSnapshot()
  const lines = tree.split('\n').filter((line) => !/^\s*- \/url:/.test(line))
  return `${lines.map((line) => line.replace(/^(\s*- link .*):$/, '$1')).join('\n')}\n`
}

for (const name of kept) {
  test(`${name} is told as it was`, async () => {
    await show(page, all[name])
    const file = `${folder}${name}.yml`
    const told = await heard()
    if (process.env.UPDATE) {
      mkdirSync(folder, { recursive: true })
      writeFileSync(file, told)
    }
    assert.ok(existsSync(file), `${name} is not kept yet: run this with UPDATE=1 and look at it`)
    assert.equal(told, readFileSync(file, 'utf8'))
  })
}
