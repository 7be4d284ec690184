import { refusedBy, type Refused } from '../bridge/refused'

/** Changes of a screen, one after the other so that no quick tap is lost, and why the last one was refused. */
export class Doing {
  refused = $state.raw<Refused>()
  #waiting = $state(0)
  #last: Promise<unknown> = Promise.resolve()

  get busy(): boolean {
    return this.#waiting > 0
  }

  /** Does it when what came before is done; answers whether it was done. */
  run(change: () => Promise<unknown>): Promise<boolean> {
    this.#waiting += 1
    const done = this.#last.then(() => this.#do(change))
    this.#last = done
    return done
  }

  async #do(change: () => Promise<unknown>): Promise<boolean> {
    this.refused = undefined
    try {
      await change()
      return true
    } catch (thrown) {
      this.refused = refusedBy(thrown)
      return false
    } finally {
      this.#waiting -= 1
    }
  }
}
