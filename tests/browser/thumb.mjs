// A thumb on the glass: it taps, and every tap is counted; and fingers on a keyboard.
import { tap } from './host.mjs'

/** So far apart, ms, fingers strike keys: what comes quicker is an instrument that acts as a keyboard. */
const STROKE = 80

/** Types as fingers do. */
export const strike = (page, text) => page.keyboard.type(text, { delay: STROKE })

export class Thumb {
  taps = 0

  constructor(page) {
    this.page = page
  }

  /** Taps what the selector finds, once the glove's bounce is over. */
  async tap(selector) {
    await this.page.waitForSelector('[data-ready="true"]')
    await tap(this.page, this.page.locator(selector))
    this.taps += 1
  }

  /** Enters a reading in inches by the pad and presses *next*. */
  async enter(text) {
    await this.put(text)
    await this.tap('[data-key="next"]')
  }

  /** Brings a number in inches into the field, from whatever whole inch is held. */
  async put(text) {
    const [, whole, over = '0', under = '1'] = text.match(/^(\d+)(?:-(\d+)\/(\d+))?$/)
    await this.whole(Number(whole))
    await this.tap(`[data-key="${(16 * Number(over)) / Number(under)}"]`)
  }

  /** The whole inch: a step to a neighbour where that is enough, else its digits on the other page. */
  async whole(whole) {
    const held = await this.page.locator('output[data-whole]').getAttribute('data-whole')
    const away = held === '' ? Infinity : whole - Number(held)
    if (Math.abs(away) <= 2) {
      for (let i = 0; i < Math.abs(away); i += 1) await this.tap(`[data-step="${Math.sign(away)}"]`)
    } else {
      if (!(await this.page.locator('[data-key="point"]').isVisible()))
        await this.tap('[data-keys="other"], [data-key="other"]')
      for (const digit of String(whole)) await this.tap(`[data-key="${digit}"]`)
      await this.tap('[data-keys="other"], [data-key="other"]')
    }
  }
}
