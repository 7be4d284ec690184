import { newId } from '../bridge/id'

/** What one entry is sent with. */
export type Sending = { what: string; at: string; thing: string; id: string; fix: string; fixId: string }

/** One entry on its way: sent again after a failure it keeps its identities, so that twice sent is once kept. */
export class Attempt {
  #sending: Sending | undefined

  /** The identities of this entry: the same until another one comes or it is done. */
  of(what: string): Sending {
    if (this.#sending?.what !== what) {
      const at = new Date().toISOString()
      this.#sending = { what, at, thing: newId(), id: newId(), fix: newId(), fixId: newId() }
    }
    return this.#sending
  }

  done(): void {
    this.#sending = undefined
  }
}
