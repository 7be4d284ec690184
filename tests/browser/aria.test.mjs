// What a screen reader is told of the screens that are used on the knees: roles, names and states in their order, as
// they are kept in the folder `aria`. UPDATE=1 writes them anew.
import assert from 'node:assert/strict'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { after, before, test } from 'node:test'
import { fileURLToPath } from 'node:url'
import { openPage, startBrowser, startHost } from './host.mjs'
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

let host, browser, page, all
before(async () => {
  host = await startHost()
  browser = await startBrowser()
  page = await openPage(browser, host.address)
  all = screens({ ...(await furnish(page)), half: await halfRead(page), halfMm: await halfReadMm(page) })
})
after(async () => {
  await browser?.close()
  await host?.stop()
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
    await page.waitForLoadState('networkidle')
    // Where to read next is asked for once the findings stand.
    if (name === 'findings') await page.waitForSelector('[data-next]')
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
