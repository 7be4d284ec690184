// A demo room opened the way a person opens it: by taps from the list of rooms.
import { openPage } from './host.mjs'

/** A page on a fresh copy of the demo room, standing on one of its screens. */
export async function openDemo(browser, host, { title = 'Kestrel Lane hall bath', screen, ...size } = {}) {
  const page = await openPage(browser, host.address, size)
  const demos = page.locator('main[data-page="rooms"] section').last()
  await demos.getByRole('button', { name: title }).tap()
  await page.waitForSelector('main[data-page="room"]')
  const room = new URL(page.url()).hash.split('/')[2]
  if (screen) await goTo(page, room, screen)
  return { page, room: decodeURIComponent(room) }
}

/** Follows the room's own link to a screen. */
export async function goTo(page, room, screen) {
  await page.locator(`main[data-page="room"] a[href="#/rooms/${room}/${screen}"]`).first().tap()
  await page.waitForSelector(`main[data-page="${screen}"] h2`)
}

/** What the locator says, on one line, fractions as `7/16`. */
export async function said(locator) {
  return (await locator.textContent()).replace(/⁄/g, '/').replace(/\s+/g, ' ').trim()
}

/** What every match of the locator says. */
export async function eachSaid(locator) {
  return Promise.all((await locator.all()).map(said))
}
