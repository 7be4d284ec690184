/** A question that is under way: who asks the same meanwhile waits for the same answer. */
export class Once<T> {
  #underWay: { question: string; answer: Promise<T> } | undefined

  of(question: string, ask: () => Promise<T>): Promise<T> {
    if (this.#underWay?.question === question) return this.#underWay.answer
    const answer = ask()
    const now = { question, answer }
    const done = () => {
      if (this.#underWay === now) this.#underWay = undefined
    }
    this.#underWay = now
    answer.then(done, done)
    return answer
  }
}
