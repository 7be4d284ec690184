// What the tests of one file stand on: a host, a browser, and rooms to open in it.
import { after, before } from 'node:test'
import { ask, openPage, startBrowser, startHost, visit, write } from './host.mjs'
import { plan } from './kestrel.mjs'

/** A host and a browser, there before the file's first test and gone after its last. */
export function bench() {
  const on = {}
  before(async () => {
    on.host = await startHost()
    on.browser = await startBrowser()
  })
  after(async () => {
    await on.browser?.close()
    await on.host?.stop()
  })
  const page = (size) => openPage(on.browser, on.host.address, size)
  return {
    on,
    page,
    /** A page on a fresh copy of a demo room, standing on one of its screens. */
    async open(name, screen, size) {
      const opened = await page(size)
      const { room } = await ask(opened, 'demo', { name, id: crypto.randomUUID() })
      if (screen) await visit(opened, `#/rooms/${room}/${screen}`)
      return { page: opened, room }
    },
    /** A page on a room in inches with the plan of the hall bath and nothing read. */
    async unread(screen, size) {
      const opened = await page(size)
      const room = crypto.randomUUID()
      await write(opened, room, 'room-new', { name: 'Hall bath', units: 'in', created: new Date().toISOString() })
      await write(opened, room, 'plan-set', { plan })
      await visit(opened, `#/rooms/${room}/${screen}`)
      return { page: opened, room }
    },
  }
}

/** What is planned in a room beyond its framing, as it is kept. */
export const works = async (page, room) => (await ask(page, 'room', { room })).works

export const alert = (page) => page.locator('[role="alert"]').first()

/** Keeps what is tried out, and waits until it is kept. */
export async function keep(page) {
  await page.getByRole('button', { name: 'Keep this' }).tap()
  await page.getByRole('button', { name: 'Keep this' }).waitFor({ state: 'detached' })
}
