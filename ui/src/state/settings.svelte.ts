import type { Units } from '../bridge/generated/Units'

export type Theme = 'system' | 'light' | 'dark'
type Kept = { theme: Theme; units: Units; language: string }

const KEY = 'truefall-settings'
const DEFAULTS: Kept = { theme: 'system', units: 'in', language: 'en-US' }

/** What one person prefers on this device. It changes no number. */
class Settings {
  #kept = $state<Kept>({ ...DEFAULTS, ...read() })
  #dark = $state(false)

  constructor() {
    const system = matchMedia('(prefers-color-scheme: dark)')
    this.#dark = system.matches
    system.addEventListener('change', (event) => (this.#dark = event.matches))
  }

  get theme(): Theme {
    return this.#kept.theme
  }
  set theme(theme: Theme) {
    this.#keep({ theme })
  }

  /** The units of a new room. */
  get units(): Units {
    return this.#kept.units
  }
  set units(units: Units) {
    this.#keep({ units })
  }

  /** The theme as it is shown. */
  get shown(): 'light' | 'dark' {
    if (this.theme !== 'system') return this.theme
    return this.#dark ? 'dark' : 'light'
  }

  #keep(changed: Partial<Kept>) {
    Object.assign(this.#kept, changed)
    try {
      localStorage.setItem(KEY, JSON.stringify(this.#kept))
    } catch {
      // A browser that keeps nothing still shows what was chosen.
    }
  }
}

function read(): Partial<Kept> {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? '{}')
  } catch {
    return {}
  }
}

export const settings = new Settings()
