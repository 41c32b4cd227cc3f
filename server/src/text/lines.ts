/** A place in a text: line and column counted from 0, columns in UTF-16 code units, as the editor protocol counts. */
export interface LineColumn {
  readonly line: number;
  readonly column: number;
}

/** The only code that turns offsets into lines and columns and back. LF, CRLF and a lone CR each end a line. */
export class Lines {
  readonly #starts: number[] = [0];
  readonly #length: number;

  constructor(text: string) {
    this.#length = text.length;
    for (let i = 0; i < text.length; i++) {
      const unit = text.charCodeAt(i);
      if (unit === 10 || (unit === 13 && text.charCodeAt(i + 1) !== 10)) this.#starts.push(i + 1);
    }
  }

  get count(): number {
    return this.#starts.length;
  }

  /** Line and column of an offset; an offset outside the text counts as its nearest end. */
  at(offset: number): LineColumn {
    const within = Math.max(0, Math.min(offset, this.#length));
    let low = 0;
    let high = this.#starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.#starts[middle] ?? 0) <= within) low = middle;
      else high = middle - 1;
    }
    return { line: low, column: within - (this.#starts[low] ?? 0) };
  }

  /** Offset of a line and column; a column past the line's end counts as the start of the next line. */
  offset(place: LineColumn): number {
    if (place.line < 0) return 0;
    const start = this.#starts[place.line];
    if (start === undefined) return this.#length;
    const end = this.#starts[place.line + 1] ?? this.#length;
    return Math.max(start, Math.min(start + place.column, end));
  }
}
