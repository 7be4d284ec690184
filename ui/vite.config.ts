import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'vitest/config'

// Everything is a file of its own: nothing inlined, nothing fetched from elsewhere.
export default defineConfig({
  base: './',
  plugins: [svelte()],
  build: { target: 'es2022', assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
})
