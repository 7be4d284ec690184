/** Makes the page one that can be installed and opens with the home device away, where the browser lets it. */
export function install(): void {
  const link = document.createElement('link')
  link.rel = 'manifest'
  link.href = './truefall.webmanifest'
  link.crossOrigin = 'use-credentials'
  document.head.append(link)
  // What waits here is asked to be kept when space runs short.
  navigator.storage?.persist?.().catch(() => undefined)
  // Without a certificate that the browser trusts there is no worker: the page then works as long as it stays open.
  navigator.serviceWorker?.register('./worker.js').catch(() => undefined)
}
