// A cut is listed only with an approval on record; the question to the engineer is filled in; both are on the screens.
import assert from 'node:assert/strict'
import { test } from 'node:test'
import { bench } from './bench.mjs'
import { answered, ask, press, put, visit } from './host.mjs'
import { eachSaid, said } from './demo.mjs'

const INCH = 25.4

const { open } = bench()

test('the question about J4 says what the cut would take', async () => {
  const { page } = await open('kestrel', 'approvals/J4')
  await page.locator('.question').waitFor()
  const rows = await eachSaid(page.locator('.question dl > div'))
  assert.deepEqual(rows.slice(0, 7), [
    'Member Sawn, 9-1/4 in deep',
    'Clear span 138 in',
    'Cut wanted 1/8 in deep, 42 in long: 30 in to 72 in',
    'Depth left 9-1/8 in',
    'Middle third 22 in to 68 in: the cut reaches into it',
    'Section modulus lost 2.7 % where it is deepest',
    'Stiffness lost 4.0 % if it ran the whole length',
  ])
  assert.match(rows[7], /^Why it is asked The cut reaches the middle third/)
  assert.deepEqual(page.wrong, [])
})

test('an approval counts only with who, when and a reference; then its cut may be ticked, and no other', async () => {
  const { page, room } = await open('kestrel', 'cut-list/level-by-approval')
  const row = page.locator('[data-joist="J4"]')
  await row.waitFor()
  assert.equal(await row.getAttribute('role'), null, 'a cut nobody approved cannot be ticked')
  await row.getByRole('link', { name: 'Ask, or record an approval' }).tap()
  await page.locator('.question').waitFor()
  const record = page.getByRole('button', { name: 'Record it' })
  await press(page, record)
  assert.match(await said(page.locator('.missing')), /Still missing: Given by, Reference/)
  assert.equal((await ask(page, 'room', { room })).approvals.length, 0)

  await put(page, page.getByLabel('Given by'), 'A. Byrne, structural engineer')
  await put(page, page.getByLabel('Reference'), 'letter 12')
  await answered(page, 'write', () => record.tap())
  const kept = page.locator('[data-approval="J4"]')
  await kept.waitFor()
  assert.match(await said(kept), /J4: 1\/8 in deep at most, from 30 in to 72 in/)
  const [approval] = (await ask(page, 'room', { room })).approvals
  assert.ok(Math.abs(approval.depth - INCH / 8) < 0.01 && Math.abs(approval.to - 72 * INCH) < 0.01)

  await visit(page, `#/rooms/${room}/cut-list`)
  const { alternatives } = await ask(page, 'height', { room })
  const dressed = alternatives.find(({ name }) => name === 'level-dressed')
  const j4 = dressed.joists.find(({ id }) => id === 'J4')
  assert.equal(j4.approval.by, 'A. Byrne, structural engineer')
  await visit(page, `#/rooms/${room}/cut-list/level-dressed`)
  const allowed = page.locator('[data-joist="J4"]')
  await allowed.waitFor()
  assert.equal(await allowed.getAttribute('role'), 'checkbox')
  assert.match(await said(allowed), /Approved by A\. Byrne/)

  await visit(page, `#/rooms/${room}/approvals`)
  await kept.getByRole('button', { name: 'Withdraw' }).tap()
  await kept.waitFor({ state: 'detached' })
  await visit(page, `#/rooms/${room}/cut-list/level-by-approval`)
  await row.waitFor()
  assert.equal(await row.getAttribute('role'), null)
  assert.deepEqual(page.wrong, [])
})

test('a chosen height is said as it is held, not over the datum', async () => {
  const { page, room } = await open('kestrel', 'height')
  await answered(page, 'write', () => page.getByRole('button', { name: 'Build to this height' }).tap())
  await visit(page, `#/rooms/${room}`)
  const step = page.locator(`a[href="#/rooms/${room}/height"]`)
  assert.match(await said(step), /hold 43-7\/8/)
})
