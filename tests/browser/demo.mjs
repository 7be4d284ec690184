// A demo room opened the way a person opens it: by taps from the list of rooms.
import { shown } from './host.mjs'

/** Goes from the list of rooms to a fresh copy of the demo room, and to one of its screens; the room's id. */
export async function openDemo(page, screen) {
  await page.getByRole('button', { name: 'Kestrel Lane hall bath' }).tap()
  await page.waitForSelector('main[data-page="room"]')
  const room = new URL(page.url()).hash.split('/')[2]
  if (screen) await goTo(page, room, screen)
  return decodeURIComponent(room)
}

/** Follows the room's own link to a screen. */
export async function goTo(page, room, screen) {
  await shown(page)
  await page.locator(`main[data-page="room"] a[href="#/rooms/${room}/${screen}"]`).first().tap()
  await page.waitForSelector(`main[data-page="${screen}"] h2`)
  await shown(page)
}

/** What the locator says, on one line, fractions as `7/16`. */
export async function said(locator) {
  return (await locator.textContent()).replace(/⁄/g, '/').replace(/\s+/g, ' ').trim()
}

/** What every match of the locator says. */
export async function eachSaid(locator) {
  return Promise.all((await locator.all()).map(said))
}
