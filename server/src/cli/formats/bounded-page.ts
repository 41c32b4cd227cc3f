/**
 * A text that never grows beyond a length. A block is added whole or not at all, and the caller is told, so that what is
 * left out can be counted. Room for what closes an open block is kept.
 */
export class BoundedPage {
  readonly #parts: string[] = [];
  readonly #lengthOf: (text: string) => number;
  #room: number;

  /** `lengthOf` measures as the platform does: in code units or in bytes. */
  constructor(longest: number, lengthOf: (text: string) => number) {
    this.#room = longest;
    this.#lengthOf = lengthOf;
  }

  /** Adds a block if it fits; false where it does not. */
  add(block: string): boolean {
    const length = this.#lengthOf(block);
    if (length > this.#room) return false;
    this.#room -= length;
    this.#parts.push(block);
    return true;
  }

  /**
   * Adds blocks one after the other, and says by `rest` how many did not fit. `rest` of the largest number has to fit
   * itself; where not even that does, nothing is added and false returned.
   */
  addAll(opening: string, blocks: readonly string[], closing: string, rest: (left: number) => string): boolean {
    const kept = this.#lengthOf(closing) + this.#lengthOf(rest(blocks.length));
    if (this.#lengthOf(opening) + kept > this.#room) return false;
    this.add(opening);
    this.#room -= kept;
    let shown = 0;
    while (shown < blocks.length && this.add(blocks[shown] ?? '')) shown++;
    this.#room += kept;
    this.add(closing);
    if (shown < blocks.length) this.add(rest(blocks.length - shown));
    return true;
  }

  /** Lets `write` add blocks between two that belong together; adds nothing where the two do not fit. */
  within(opening: string, closing: string, write: () => void): boolean {
    const kept = this.#lengthOf(closing);
    if (this.#lengthOf(opening) + kept > this.#room) return false;
    this.add(opening);
    this.#room -= kept;
    write();
    this.#room += kept;
    this.add(closing);
    return true;
  }

  /** Lets `write` fill a part of its own with at most so much of the room. */
  part(room: number, write: (part: BoundedPage) => void): void {
    const inner = new BoundedPage(Math.min(Math.floor(room), this.#room), this.#lengthOf);
    write(inner);
    this.add(inner.text);
  }

  get room(): number {
    return this.#room;
  }

  get text(): string {
    return this.#parts.join('');
  }
}
