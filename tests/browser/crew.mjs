// The crew's door as tests use it: opened from home on this machine alone, and trusted by its certificate.
import { createHash } from 'node:crypto'
import { connect } from 'node:tls'
import { ask, newPage, openContext, openPage, shown, startBrowser, startHost } from './host.mjs'

/** The certificate of a door: its SHA-256, and that of its key, as a browser can be told to trust it. */
export function certificate(address) {
  const { hostname, port } = new URL(address)
  return new Promise((done, failed) => {
    const socket = connect({ host: hostname, port, rejectUnauthorized: false }, () => {
      const own = socket.getPeerX509Certificate()
      socket.end()
      const key = own.publicKey.export({ type: 'spki', format: 'der' })
      done({ fingerprint: sha256(own.raw, 'hex'), pin: sha256(key, 'base64') })
    })
    socket.on('error', failed)
  })
}

const sha256 = (bytes, as) => createHash('sha256').update(bytes).digest(as)

/** A host whose rooms are open, its home page, and a browser that trusts the key of its door and no other. */
export async function openRooms(role = 'write') {
  const host = await startHost()
  const first = await startBrowser()
  const asked = await openPage(first, host.address)
  const { open } = await ask(asked, 'crew-open', { at: ['127.0.0.1'], minutes: 60, role })
  await first.close()
  const { pin } = await certificate(open.addresses[0])
  const browser = await startBrowser([`--ignore-certificate-errors-spki-list=${pin}`])
  const home = await openPage(browser, host.address, { width: 1280, height: 800 })
  const stop = async () => {
    await browser.close()
    await host.stop()
  }
  return { host, browser, home, stop, address: open.addresses[0] }
}

/** A page of the crew before it joined. Whatever throws in it is gathered in `wrong`. */
export async function crewPage(browser, address, size) {
  const page = await newPage(await openContext(browser, size))
  const wrong = []
  page.on('pageerror', (error) => wrong.push(String(error)))
  await page.goto(address)
  await page.waitForSelector('main[data-page]')
  await shown(page)
  return Object.assign(page, { wrong })
}

/** A page that joined under a name, by a code drawn at home. */
export async function join({ browser, home, address }, name, role = 'write', more = {}) {
  const { open } = await ask(home, 'crew-draw', { role })
  const page = await crewPage(browser, `${address}/#/join/${open.code.code}/${open.fingerprint}`, more)
  await page.getByLabel('Your name').fill(name)
  await page.getByRole('button', { name: 'Join', exact: true }).tap()
  await page.locator('[data-sign]', { hasText: name }).waitFor()
  await page.waitForSelector('main[data-page="rooms"]')
  await shown(page)
  return page
}
