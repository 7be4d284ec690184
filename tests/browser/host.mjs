// Starts the program's own host over a fresh data folder, and a browser that sees nothing else.
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'

const top = fileURLToPath(new URL('../../', import.meta.url))
const { chromium } = createRequire(join(top, 'ui/package.json'))('playwright-core')

const quiet = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run']
const still = ['--disable-background-networking', '--disable-component-update', '--disable-sync']

/** The program as it was built: where TRUEFALL says, else in the target folder. */
export function program() {
  const built = join(process.env.CARGO_TARGET_DIR ?? join(top, 'target'), 'debug', 'truefall')
  const path = process.env.TRUEFALL ?? built
  if (!existsSync(path)) throw new Error(`${path} is not there: build it with cargo build -p cli`)
  return path
}

/** A host over an empty data folder: its address with the key, and the ways to stop it, kill it and start it again. */
export async function startHost(words = []) {
  const home = mkdtempSync(join(tmpdir(), 'truefall-'))
  const env = { ...process.env, TRUEFALL_HOME: home }
  let child
  const host = {
    async start() {
      child = spawn(program(), ['host', '--port', '0', ...words], { env, stdio: ['ignore', 'pipe', 'inherit'] })
      host.address = await firstAddress(child)
    },
    kill: () =>
      new Promise((done) => {
        child.once('exit', done)
        child.kill('SIGKILL')
      }),
    async stop() {
      await host.kill()
      rmSync(home, { recursive: true, force: true })
    },
  }
  await host.start()
  return host
}

async function firstAddress(child) {
  for await (const line of createInterface({ input: child.stdout })) {
    const found = line.match(/http:\/\/127\.0\.0\.1:\d+\/\?key=\S+/)
    if (found) return found[0]
  }
  throw new Error('the host ended without naming its address')
}

export function startBrowser(more = []) {
  const executablePath = process.env.CHROMIUM ?? '/usr/bin/chromium'
  return chromium.launch({
    executablePath,
    headless: true,
    args: [...quiet, ...still, ...more],
  })
}

/** The seed of the waits where the core answers late and the browser is slow, as on a busy machine. */
const slow = process.env.TRUEFALL_SLOW
/** Waiting ends with what is waited for. This is only when to give up, in milliseconds, and nothing is asserted by it. */
const PATIENCE = slow ? 600_000 : 180_000

/** A context of the browser, of a phone unless another size is given; its pages know what they still wait for. */
export async function openContext(browser, { width = 360, height = 780, ...more } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, hasTouch: true, ...more })
  context.setDefaultTimeout(PATIENCE)
  await context.addInitScript(watch)
  return context
}

/** A page of a context, four times slower where that is asked for. */
export async function newPage(context) {
  const page = await context.newPage()
  if (slow) await (await context.newCDPSession(page)).send('Emulation.setCPUThrottlingRate', { rate: 4 })
  return page
}

/** A page on the host, of a phone unless another size is given. `wrong` gathers what went wrong in it. */
export async function openPage(browser, address, { colorScheme = 'light', ...more } = {}) {
  const page = await newPage(await openContext(browser, { colorScheme, ...more }))
  const wrong = []
  page.on('pageerror', (error) => wrong.push(String(error)))
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()))
  page.on('request', (request) => new URL(request.url()).host !== new URL(address).host && wrong.push(request.url()))
  await page.goto(address)
  await page.waitForSelector('main[data-page]')
  await shown(page)
  return Object.assign(page, { wrong })
}

/** Runs in the page before its own scripts: counts the clicks, and the requests whose answers it has not dealt with. */
function watch() {
  const { fetch } = window
  window.clicks = 0
  window.underway = { rooms: 0, instruments: 0 }
  addEventListener('click', () => (window.clicks += 1), true)
  window.fetch = async (at, how) => {
    if (!`${at}`.startsWith('/dispatch/')) return fetch(at, how)
    const about = `${at}`.startsWith('/dispatch/device') ? 'instruments' : 'rooms'
    window.underway[about] += 1
    // Whoever waits for the answer goes on first.
    const done = () => setTimeout(() => (window.underway[about] -= 1))
    const answer = await fetch(at, how).catch((thrown) => {
      done()
      throw thrown
    })
    for (const way of ['text', 'json']) {
      const read = answer[way]
      answer[way] = () => read.call(answer).finally(done)
    }
    return answer
  }
}

/**
 * Waits until everything the page asked for has come and is drawn. The instruments report at any time: what they say is
 * waited for by name, or here where none is in use.
 */
export async function shown(page, instruments) {
  const drawn = page.evaluate(async (instruments) => {
    const frame = () => new Promise(requestAnimationFrame)
    do {
      await frame()
      await frame()
    } while (window.underway.rooms > 0 || (instruments && window.underway.instruments > 0))
  }, instruments)
  // An act may load the page again, as joining does: then it is the new one that is drawn.
  const left = await drawn.then(
    () => false,
    (thrown) => /context was destroyed/.test(thrown.message) || Promise.reject(thrown),
  )
  if (!left) return
  await page.waitForSelector('main[data-page]')
  await shown(page, instruments)
}

/** Does it, and waits until the request of this name that it begins is answered and what came of it is drawn. */
export async function answered(page, name, act) {
  const [request] = await Promise.all([page.waitForRequest((one) => one.url().endsWith(`/dispatch/${name}`)), act()])
  const answer = await request.response()
  await answer?.finished()
  await shown(page)
}

/** Taps what the locator finds, and waits until the page has dealt with the tap. */
export async function tap(page, locator) {
  const before = await page.evaluate(() => [performance.timeOrigin, window.clicks])
  await locator.tap()
  const isDealtWith = ([origin, clicks]) => performance.timeOrigin !== origin || window.clicks > clicks
  await page.waitForFunction(isDealtWith, before)
}

/** Taps what the locator finds, and waits until all that came of it is drawn. */
export async function press(page, locator) {
  await tap(page, locator)
  await shown(page)
}

/** Types into the field that the locator finds, and waits until all that came of it is drawn. */
export async function put(page, locator, text) {
  await locator.fill(text)
  await shown(page)
}

/** One request to the core, from within the page and with its cookie; it is never held back. */
export function ask(page, name, body) {
  return page.evaluate(
    async ([name, body]) => {
      const answer = await fetch(`/dispatch/${name}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'truefall-at-once': 'yes' },
        body: JSON.stringify(body),
      })
      const said = await answer.json()
      if (!answer.ok) throw new Error(`${name}: ${JSON.stringify(said)}`)
      return said
    },
    [name, body],
  )
}

/** One change of a room, from within the page. */
export function write(page, room, command, payload) {
  return ask(page, 'write', {
    id: crypto.randomUUID(),
    room,
    command,
    payload: JSON.stringify(payload),
  })
}

/** Goes to a place of the page without loading it again, and waits until the page is on its way there. */
export async function go(page, hash) {
  await page.evaluate(
    (hash) =>
      new Promise((done) => {
        if (location.hash === new URL(hash, location.href).hash) return done()
        addEventListener('hashchange', () => done(), { once: true })
        location.hash = hash
      }),
    hash,
  )
}

/** Goes to a place of the page, and waits until all that is shown there has come. */
export async function visit(page, hash) {
  await go(page, hash)
  await shown(page)
}

/** Inches in millimetres, as they come of typed text: to the nearest number. */
export const inches = (count) => (count * 254) / 10
