type Outcome<T> = { readonly value: T } | { readonly thrown: unknown };

/**
 * Work that several ask for and that is too long for one step. Whoever comes first does it, pausing as often as the work
 * does; the others find it done. It must not ask for facts: what it needs is asked for before it begins.
 */
export class Steps<T> {
  readonly #work: Generator<void, T> | undefined;
  #outcome: Outcome<T> | undefined;

  /** Work to be done, or an answer for which there is none. */
  constructor(work: Generator<void, T> | { readonly value: T }) {
    if ('value' in work) this.#outcome = work;
    else this.#work = work;
  }

  /** Goes on with the work, with a pause after each step. */
  *finish(): Generator<void, T> {
    while (this.#outcome === undefined) {
      this.advance();
      if (this.#outcome === undefined) yield;
    }
    return this.now();
  }

  /** The answer, with all that is left of the work done at once. */
  now(): T {
    while (this.#outcome === undefined) this.advance();
    if ('thrown' in this.#outcome) throw this.#outcome.thrown;
    return this.#outcome.value;
  }

  get isDone(): boolean {
    return this.#outcome !== undefined;
  }

  /** One step of the work. */
  advance(): void {
    try {
      const step = this.#work?.next();
      if (step?.done === true) this.#outcome = { value: step.value };
    } catch (thrown) {
      this.#outcome = { thrown };
    }
  }
}
