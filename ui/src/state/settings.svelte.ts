import type { RoomHead } from '../bridge/generated/RoomHead'
import type { TiltUnit } from '../bridge/generated/TiltUnit'
import type { Units } from '../bridge/generated/Units'
import type { Shown } from '../units'
import { languageFor, localeFor, spoken, type Language } from '../words/spoken.svelte'

export type Theme = 'system' | 'light' | 'dark'
/** What the tape shows in a practice room: at the mark, first and last, and at each point. In mm. */
export type Practice = { room: string; opening: number; closing: number; points: Record<string, number> }

type Kept = {
  theme: Theme
  /** Of a new room, and how inches are shown. */
  units: Units
  inches: 'in' | 'decimal'
  language: Language | 'device'
  /** Rooms that are shown in other units than they are read in. */
  rooms: Record<string, Shown>
  /** How readings are spoken and asked for. */
  call: boolean
  /** How closely this person reads: the standard deviation of one reading, mm. */
  sd?: number
  /** The foot that tilts are read on, mm, and what its level shows them in. */
  tilt?: { foot: number; unit: TiltUnit }
  /** The room one practises in, and what its tape shows. */
  practice?: Practice
}

const KEY = 'truefall-settings'
const DEFAULTS: Kept = { theme: 'system', units: 'in', inches: 'in', language: 'device', rooms: {}, call: false }

/** What one person prefers on this device. It changes no number. */
class Settings {
  #kept = $state<Kept>({ ...DEFAULTS, ...read() })
  #dark = $state(false)

  constructor() {
    const system = matchMedia('(prefers-color-scheme: dark)')
    this.#dark = system.matches
    system.addEventListener('change', (event) => (this.#dark = event.matches))
    addEventListener('languagechange', () => this.#speak())
    this.#speak()
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

  /** How lengths are shown where a room is read in inches, and in a new room. */
  get shownIn(): Shown {
    return this.units === 'mm' ? 'mm' : this.#kept.inches
  }
  set shownIn(shown: Shown) {
    this.#keep(shown === 'mm' ? { units: 'mm' } : { units: 'in', inches: shown })
  }

  /** The units a room is shown in: its own, unless another was chosen for it here. */
  of({ id, units }: Pick<RoomHead, 'id' | 'units'>): Shown {
    return this.#kept.rooms[id] ?? (units === 'mm' ? 'mm' : this.#kept.inches)
  }
  show(room: string, shown: Shown) {
    this.#keep({ rooms: { ...this.#kept.rooms, [room]: shown } })
  }

  get language(): Language | 'device' {
    return this.#kept.language
  }
  set language(language: Language | 'device') {
    this.#keep({ language })
    this.#speak()
  }

  /** Whether readings are called out between two people. */
  get call(): boolean {
    return this.#kept.call
  }
  set call(call: boolean) {
    this.#keep({ call })
  }

  get sd(): number | undefined {
    return this.#kept.sd
  }
  set sd(sd: number | undefined) {
    this.#keep({ sd })
  }

  get tilt(): { foot: number; unit: TiltUnit } | undefined {
    return this.#kept.tilt
  }
  set tilt(tilt: { foot: number; unit: TiltUnit } | undefined) {
    this.#keep({ tilt })
  }

  practiceIn(room: string): Practice | undefined {
    return this.#kept.practice?.room === room ? this.#kept.practice : undefined
  }
  set practice(practice: Practice) {
    this.#keep({ practice })
  }

  /** The theme as it is shown. */
  get shown(): 'light' | 'dark' {
    if (this.theme !== 'system') return this.theme
    return this.#dark ? 'dark' : 'light'
  }

  #speak() {
    const preferred = navigator.languages
    spoken.language = this.language === 'device' ? languageFor(preferred) : this.language
    spoken.locale = localeFor(spoken.language, preferred)
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
