// Writes a picture of every screen, in both themes, on a phone and on a desk, into the folder `out`.
// Names of screens after the command choose some; LOCALE chooses the language.
import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { openPage, shown, startBrowser, startHost } from './host.mjs'
import { furnish, halfRead, halfReadMm, screens, show } from './screens.mjs'
import { Thumb } from './thumb.mjs'

const out = fileURLToPath(new URL('out/', import.meta.url))
const sizes = [
  [360, 780],
  [1280, 800],
]
const only = process.argv.slice(2)

/** Screens that begin below their fold are shown whole. */
const whole = (name) => !name.startsWith('readings')

const browser = await startBrowser()
mkdirSync(out, { recursive: true })
for (const colorScheme of ['light', 'dark']) {
  for (const [width, height] of sizes) {
    const host = await startHost()
    const page = await openPage(browser, host.address, {
      width,
      height,
      colorScheme,
      deviceScaleFactor: 1.5,
      locale: process.env.LOCALE ?? 'en-US',
    })
    const spoken = process.env.LOCALE ? `-${process.env.LOCALE}` : ''
    const picture = (name) =>
      page.screenshot({
        path: `${out}${name}${spoken}-${colorScheme}-${width}.png`,
        fullPage: whole(name),
      })
    const rooms = {
      ...(await furnish(page)),
      half: await halfRead(page),
      halfMm: await halfReadMm(page),
    }
    for (const [name, screen] of Object.entries(screens(rooms))) {
      if (only.length > 0 && !only.includes(name)) continue
      await show(page, screen)
      await picture(name)
      if (name === 'readings') await readingsUnderWay(page, picture)
    }
    await page.context().close()
    await host.stop()
  }
}
await browser.close()

/** The pad with a number in it, its other keys, and a suspected slip. */
async function readingsUnderWay(page, picture) {
  const thumb = new Thumb(page)
  await thumb.put('44')
  await shown(page)
  await picture('readings-value')
  await thumb.tap('[data-keys="other"]')
  await picture('readings-digits')
  await thumb.tap('[data-keys="other"]')
  await thumb.put('43-1/16')
  await shown(page)
  await picture('readings-slip')
}
