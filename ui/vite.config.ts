import { svelte } from '@sveltejs/vite-plugin-svelte'
import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import type { Plugin } from 'vite'
import { defineConfig } from 'vitest/config'

/** The worker that keeps the screens, with the names of everything they consist of. */
function worker(): Plugin {
  return {
    name: 'worker',
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const files = [...Object.keys(bundle), ...readdirSync('public')].filter((name) => !name.endsWith('.map')).sort()
        const read = (name: string) => (name in bundle ? contents(bundle[name]) : readFileSync(`public/${name}`))
        const version = files
          .reduce((sum, name) => sum.update(name).update(read(name)), createHash('sha256'))
          .digest('hex')
        const text = readFileSync('src/bridge/worker.js', 'utf8')
        const source = text.replace('__VERSION__', version.slice(0, 16)).replace('__FILES__', JSON.stringify(files))
        this.emitFile({ type: 'asset', fileName: 'worker.js', source })
      },
    },
  }
}

function contents(one: { type: string; code?: string; source?: string | Uint8Array } | undefined): string | Uint8Array {
  return one?.code ?? one?.source ?? ''
}

// Everything is a file of its own: nothing inlined, nothing fetched from elsewhere.
export default defineConfig({
  base: './',
  plugins: [svelte(), worker()],
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
})
