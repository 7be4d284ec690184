import { spoken } from '../words/spoken.svelte'

/** A time as this device writes it; what is no time stays as it is. */
export function saidAt(time: string): string {
  const date = new Date(time)
  const style = { dateStyle: 'medium', timeStyle: 'short' } as const
  return Number.isNaN(date.valueOf()) ? time : new Intl.DateTimeFormat(spoken.locale, style).format(date)
}

/** The same, shorter: of today only the hour. */
export function saidShort(at: Date): string {
  if (at.toDateString() !== new Date().toDateString()) return saidAt(at.toISOString())
  return new Intl.DateTimeFormat(spoken.locale, { timeStyle: 'short' }).format(at)
}

/** Whether a text is a day of the calendar, the year first: `2026-03-02`. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false
  const day = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text)
}
