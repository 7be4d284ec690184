// Keeps the screens on a device of the crew, so that they open with the home device away. It keeps no answer of a
// room: what was seen and what waits is kept by the page itself.
const VERSION = '__VERSION__'
const FILES = __FILES__
/** So long the home device is waited for before the screens that are kept are shown, in milliseconds. */
const PATIENCE = 3000

addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(VERSION)
      .then((kept) => kept.addAll(FILES))
      .then(() => self.skipWaiting()),
  )
})

addEventListener('activate', (event) => {
  const old = (names) => names.filter((name) => name !== VERSION).map((name) => caches.delete(name))
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(old(names)))
      .then(() => self.clients.claim()),
  )
})

addEventListener('fetch', (event) => {
  const { request } = event
  const { origin, pathname } = new URL(request.url)
  if (request.method !== 'GET' || origin !== location.origin) return
  if (request.mode === 'navigate') event.respondWith(page(request))
  else if (FILES.includes(pathname.slice(1))) event.respondWith(file(request))
})

/** The page as the home device has it now, else as it is kept. */
async function page(request) {
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE) })
    if (answer.ok) return answer
  } catch {
    // The home device is away.
  }
  return (await caches.match('index.html')) ?? Response.error()
}

async function file(request) {
  return (await caches.match(request)) ?? fetch(request)
}
