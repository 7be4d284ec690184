// Runs a program compiled to WebAssembly with WASI, with the words that follow it, and ends as it ends.

import { readFile } from 'node:fs/promises'
import { WASI } from 'node:wasi'

const [program, ...words] = process.argv.slice(2)
// Left to exit by itself: where a program that ran for minutes returns here instead, Node 20 breaks off.
const wasi = new WASI({ version: 'preview1', args: [program, ...words], returnOnExit: false })
const { instance } = await WebAssembly.instantiate(await readFile(program), wasi.getImportObject())
wasi.start(instance)
