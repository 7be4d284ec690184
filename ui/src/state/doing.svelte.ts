import { refusedBy, type Refused } from '../bridge/refused'

/** Changes under way on a screen, one at a time, and why the last one was refused. */
export class Doing {
  busy = $state(false)
  refused = $state.raw<Refused>()

  /** Does it unless something is under way; answers whether it was done. */
  async run(change: () => Promise<unknown>): Promise<boolean> {
    if (this.busy) return false
    this.busy = true
    this.refused = undefined
    try {
      await change()
      return true
    } catch (thrown) {
      this.refused = refusedBy(thrown)
      return false
    } finally {
      this.busy = false
    }
  }
}
