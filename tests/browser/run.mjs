// Runs the tests of the screens: all of them, or those of the files that are named, as `crew finish`. With `--slow SEED`
// the core holds every answer back by a drawn while and the browser is four times slower, as on a busy machine.
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'

const here = fileURLToPath(new URL('.', import.meta.url))
const ends = '.test.mjs'
const { values, positionals } = parseArgs({ options: { slow: { type: 'string' } }, allowPositionals: true })

const all = readdirSync(here).filter((name) => name.endsWith(ends))
const unknown = positionals.filter((name) => !all.includes(name + ends))
if (unknown.length > 0) throw new Error(`There is no file ${unknown.join(', ')} of tests here.`)
const chosen = positionals.length > 0 ? positionals.map((name) => name + ends) : all

const env = { ...process.env, ...(values.slow !== undefined && { TRUEFALL_SLOW: values.slow }) }
const words = ['--test', ...chosen.map((name) => here + name)]
process.exitCode = spawnSync(process.execPath, words, { env, stdio: 'inherit' }).status ?? 1
