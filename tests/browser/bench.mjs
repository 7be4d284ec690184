// What the tests of one file stand on: a host, a browser, and rooms to open in it.
import { after, afterEach, before } from 'node:test'
import { answered, ask, openPage, startBrowser, startHost, visit, write } from './host.mjs'
import { plan } from './kestrel.mjs'
import { demo, newRoom } from './rooms.mjs'

/**
 * A host and a browser, there before the file's first test and gone after its last; a test's pages end with it.
 * `furnish` is what else stands before the first test.
 */
export function bench(furnish) {
  const on = {}
  const pages = []
  before(async () => {
    on.host = await startHost()
    on.browser = await startBrowser()
    await furnish?.(on)
  })
  after(async () => {
    await on.browser?.close()
    await on.host?.stop()
  })
  // A page that nobody looks at any more takes its part of the processor all the same. Part of a test ends no page.
  afterEach(async ({ name, fullName }) => {
    if (name === fullName) await Promise.all(pages.splice(0).map((page) => page.context().close()))
  })
  async function begin(size) {
    const page = await openPage(on.browser, on.host.address, size)
    pages.push(page)
    return page
  }
  return {
    on,
    /** A page on the list of rooms. */
    begin,
    /** A page on a fresh copy of a demo room, standing on one of its screens. */
    async open(name, screen, size) {
      const page = await begin(size)
      const room = await demo(page, name)
      if (screen) await visit(page, `#/rooms/${room}/${screen}`)
      return { page, room }
    },
    /** A page on a room in inches with the plan of the hall bath and nothing read. */
    async unread(screen, size) {
      const page = await begin(size)
      const room = await newRoom(page)
      await write(page, room, 'plan-set', { plan })
      if (screen) await visit(page, `#/rooms/${room}/${screen}`)
      return { page, room }
    },
  }
}

/** What is planned in a room beyond its framing, as it is kept. */
export const works = async (page, room) => (await ask(page, 'room', { room })).works

/** The first of what the page warns of. */
export const alert = (page) => page.locator('[role="alert"]').first()

/** Keeps what is tried out, and waits until it is kept and shown so. */
export async function keep(page) {
  const key = page.getByRole('button', { name: 'Keep this' })
  await answered(page, 'write', () => key.tap())
  await key.waitFor({ state: 'detached' })
}

/** Takes back the last change, and waits until what stands then is shown. */
export async function takeBack(page) {
  await answered(page, 'undo', () => page.getByRole('button', { name: /^Undo/ }).tap())
}

/** Opens what is folded: what it holds is pressed and measured too. */
export const unfold = (page) =>
  page.evaluate(() => document.querySelectorAll('details').forEach((details) => (details.open = true)))
