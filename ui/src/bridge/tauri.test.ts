// @vitest-environment node
import { clearMocks, mockIPC } from '@tauri-apps/api/mocks'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { onPhone, pickedByPhone, savedByPhone } from './tauri'

beforeEach(() => {
  vi.stubGlobal('window', globalThis)
  vi.stubGlobal('navigator', { userAgent: 'Mozilla/5.0 (Linux; Android 15)' })
})
afterEach(() => {
  clearMocks()
  vi.unstubAllGlobals()
})

/** A phone whose sheet answers this, and on which the file holds these letters. What was asked of it is gathered. */
function phone(chosen: string | null) {
  const asked: string[] = []
  mockIPC((command, payload) => {
    asked.push(command)
    if (command.startsWith('plugin:dialog|')) return chosen
    if (command === 'plugin:fs|read_file') return new TextEncoder().encode('letters').buffer
    return payload && undefined
  })
  return asked
}

test('a file is chosen on the sheet of the phone and read as it is', async () => {
  const asked = phone('content://site.documents/document/primary%3ADownload%2Fhall%20bath.room.json')
  expect(onPhone()).toBe(true)
  const file = await pickedByPhone(false)
  expect([file?.name, await file?.text()]).toEqual(['hall bath.room.json', 'letters'])
  expect(asked).toEqual(['plugin:dialog|open', 'plugin:fs|read_file'])
})

test('whoever chooses nothing opens nothing, and saves nothing', async () => {
  const asked = phone(null)
  expect(await pickedByPhone(true)).toBeUndefined()
  expect(await savedByPhone(new Blob(['letters']), 'a.pdf')).toBe(true)
  expect(asked).toEqual(['plugin:dialog|open', 'plugin:dialog|save'])
})

test('what is saved goes where the sheet says', async () => {
  const asked = phone('/downloads/a.pdf')
  expect(await savedByPhone(new Blob(['letters']), 'a.pdf')).toBe(true)
  expect(asked).toEqual(['plugin:dialog|save', 'plugin:fs|write_file'])
})
