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

/** A page on the host, of a phone unless another size is given. `wrong` gathers what went wrong in it. */
export async function openPage(browser, address, { width = 360, height = 780, colorScheme = 'light', ...more } = {}) {
  const context = await browser.newContext({
    viewport: { width, height },
    colorScheme,
    hasTouch: true,
    ...more,
  })
  const page = await context.newPage()
  const wrong = []
  page.on('pageerror', (error) => wrong.push(String(error)))
  page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()))
  page.on('request', (request) => new URL(request.url()).host !== new URL(address).host && wrong.push(request.url()))
  await page.goto(address)
  await page.waitForSelector('main[data-page]')
  return Object.assign(page, { wrong })
}

/** One request to the core, from within the page and with its cookie. */
export function ask(page, name, body) {
  return page.evaluate(
    async ([name, body]) => {
      const answer = await fetch(`/dispatch/${name}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
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

/** Goes to a place of the page without loading it again. */
export async function visit(page, hash) {
  await page.evaluate((hash) => (location.hash = hash), hash)
  await page.waitForFunction((hash) => location.hash === hash, hash)
}

/** Inches in millimetres, as they come of typed text: to the nearest number. */
export const inches = (count) => (count * 254) / 10
