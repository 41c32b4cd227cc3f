/**
 * A reading of a text up to the cursor that never gives up: completion is asked for in texts that are half typed, where
 * the YAML parser rightly refuses. It goes by lines, indentation and brackets alone.
 */

/** A group of keys or a list that is open at the cursor. */
export interface Level {
  readonly kind: 'map' | 'list';
  readonly style: 'block' | 'flow';
  /** Column of its keys or dashes; of a flow one the column of the line's first text. */
  readonly indent: number;
  /** Keys met so far. */
  readonly keys: Set<string>;
  /** The key whose value is being read. */
  key?: string;
  /** True while the value of `key` has not begun. */
  isOpen: boolean;
  /** Of a list: position of its last entry, -1 before the first. */
  index: number;
}

/** What is being written: a key, the value of the innermost key, or an entry of the innermost list. */
type Place = 'key' | 'value' | 'entry' | 'nothing';

const level = (kind: Level['kind'], style: Level['style'], indent: number): Level => ({
  kind,
  style,
  indent,
  keys: new Set(),
  isOpen: false,
  index: -1,
});

const KEY = /^(?:"([^"]*)"|'([^']*)'|([^\s#{}[\],&*!|>'"%@`][^:#]*?))[ \t]*:(?=[ \t]|$)[ \t]*/;
const DASH = /^-(?:[ \t]+|$)/;

/** The next quote of a quoted piece, past it; the end of the text where it is not closed. */
const pastQuote = (text: string, from: number): number => {
  const quote = text.charAt(from);
  const end = text.indexOf(quote, from + 1);
  return end === -1 ? text.length : end + 1;
};

const startsComment = (text: string, at: number): boolean =>
  text.charAt(at) === '#' && (at === 0 || /[ \t]/.test(text.charAt(at - 1)));

/** Where a comment begins in a line's text; its length where there is none. */
export const commentFrom = (text: string): number => {
  for (let at = 0; at < text.length; at++) {
    if (startsComment(text, at)) return at;
    if ((text.charAt(at) === '"' || text.charAt(at) === "'") && /^$|[\s:[{,-]/.test(text.charAt(at - 1)))
      at = pastQuote(text, at) - 1;
  }
  return text.length;
};

export class TextScan {
  readonly levels: Level[] = [];
  place: Place = 'nothing';
  /** Where the piece that is being written begins. */
  from = 0;
  /** True on a new line of a block list, where the dash of the entry is still owed. */
  needsDash = false;
  /** Indentation of the key whose block text (`|`, `>`) is being passed over. */
  #blockText: number | undefined;

  get top(): Level | undefined {
    return this.levels[this.levels.length - 1];
  }

  /** Reads one line, or what stands of it before the cursor. `at` is its offset. */
  line(content: string, at: number, isLast: boolean): void {
    const blanks = /^ */.exec(content)?.[0].length ?? 0;
    const rest = content.slice(blanks);
    const isEmpty = /^[ \t]*$/.test(rest);
    if (this.#blockText !== undefined) {
      if (isEmpty ? !isLast || blanks > this.#blockText : blanks > this.#blockText) return;
      this.#blockText = undefined;
    }
    if (this.top?.style === 'flow') {
      if (!this.#hasLeftFlow(blanks, rest)) {
        this.#flow(content, at, isLast);
        return;
      }
      while (this.top?.style === 'flow') this.levels.pop();
    }
    if (rest.startsWith('#')) {
      this.place = 'nothing';
      return;
    }
    if (isEmpty) {
      if (isLast) this.#newLine(blanks, at + content.length);
      return;
    }
    this.#leave(blanks, DASH.test(rest));
    this.#block(rest, blanks, at + blanks, isLast);
  }

  /** A line that begins left of an unclosed bracket's own line, with a dash or a key, is no part of what it holds. */
  #hasLeftFlow(indent: number, rest: string): boolean {
    const outer = this.levels.findLast(({ style }) => style === 'block');
    return outer !== undefined && indent <= outer.indent && (DASH.test(rest) || KEY.test(rest));
  }

  /** Leaves the levels that a line at this column is no part of. */
  #leave(indent: number, isDash: boolean): void {
    for (;;) {
      const { top } = this;
      if (top === undefined || top.indent < indent) return;
      const isOwn = top.kind === 'list' ? isDash : !isDash || top.isOpen;
      if (top.indent === indent && isOwn) return;
      this.levels.pop();
    }
  }

  #newLine(column: number, offset: number): void {
    this.from = offset;
    while (this.top !== undefined && this.top.indent > column) this.levels.pop();
    const { top } = this;
    if (top === undefined || (top.kind === 'map' && top.indent === column)) {
      // A list may stand as far left as its key: the dash then goes here.
      this.place = 'key';
      if (top !== undefined) delete top.key;
      else this.levels.push(level('map', 'block', column));
      return;
    }
    if (top.kind === 'list' && top.indent === column) {
      top.index++;
      this.needsDash = true;
      this.place = 'entry';
      return;
    }
    if (!top.isOpen) return;
    this.levels.push(level('map', 'block', column));
    this.place = 'key';
  }

  #block(rest: string, indent: number, at: number, isLast: boolean): void {
    let column = indent;
    let text = rest;
    let isEntry = false;
    for (let dash = DASH.exec(text); dash !== null; dash = DASH.exec(text)) {
      if (this.top?.kind !== 'list' || this.top.indent !== column) this.levels.push(level('list', 'block', column));
      if (this.top !== undefined) {
        this.top.index++;
        this.top.isOpen = true;
      }
      column += dash[0].length;
      text = text.slice(dash[0].length);
      isEntry = true;
    }
    const start = at + (column - indent);
    const key = KEY.exec(text);
    if (key === null) {
      if (!isEntry && this.top?.kind !== 'map' && this.levels.length > 0) return;
      if (text.startsWith('[') || text.startsWith('{')) {
        this.#flow(text, start, isLast);
        return;
      }
      if (isEntry && text !== '' && this.top !== undefined) this.top.isOpen = false;
      this.from = start;
      this.place = startsComment(text, commentFrom(text)) ? 'nothing' : isEntry ? 'entry' : 'key';
      if (isLast && !isEntry) this.#halfKey(column);
      return;
    }
    this.#takeKey(key[1] ?? key[2] ?? key[3] ?? '', column);
    this.#value(text.slice(key[0].length), start + key[0].length, isLast);
  }

  /** A key that is being typed stands in the group of its column, or begins one under an open key. */
  #halfKey(column: number): void {
    const { top } = this;
    if (top?.kind === 'map' && top.indent === column) {
      delete top.key;
      return;
    }
    if (top === undefined || top.isOpen) this.levels.push(level('map', 'block', column));
    else this.place = 'nothing';
  }

  #takeKey(key: string, column: number): void {
    if (this.top?.kind !== 'map' || this.top.indent !== column) {
      if (this.top !== undefined) this.top.isOpen = false;
      this.levels.push(level('map', 'block', column));
    }
    const { top } = this;
    if (top === undefined) return;
    top.key = key;
    top.keys.add(key);
    top.isOpen = true;
  }

  #value(value: string, at: number, isLast: boolean): void {
    this.place = 'value';
    this.from = at;
    const { top } = this;
    if (top === undefined) return;
    if (/^[|>][-+0-9]*[ \t]*(?:#.*)?$/.test(value)) {
      this.#blockText = top.indent;
      if (isLast) this.place = 'nothing';
      return;
    }
    if (value.startsWith('[') || value.startsWith('{')) {
      top.isOpen = false;
      this.#flow(value, at, isLast);
      return;
    }
    const comment = commentFrom(value);
    if (comment < value.length) this.place = 'nothing';
    top.isOpen = value.slice(0, comment).trim() === '';
  }

  #flow(text: string, at: number, isLast: boolean): void {
    const indent = this.top?.indent ?? 0;
    for (let i = 0; i < text.length; i++) {
      const character = text.charAt(i);
      const { top } = this;
      if (/[ \t\r\n]/.test(character)) continue;
      if (startsComment(text, i)) {
        this.place = 'nothing';
        return;
      }
      if (top?.style !== 'flow' && character !== '{' && character !== '[') {
        this.place = 'nothing';
        return;
      }
      if (character === '{' || character === '[') {
        if (top?.style === 'flow') top.isOpen = false;
        const next = level(character === '{' ? 'map' : 'list', 'flow', indent);
        if (character === '[') next.index = 0;
        next.isOpen = true;
        this.levels.push(next);
        this.from = at + i + 1;
      } else if (character === '}' || character === ']') {
        this.levels.pop();
        if (this.top?.style !== 'flow') this.place = 'nothing';
      } else if (character === ',' && top !== undefined) {
        if (top.kind === 'list') top.index++;
        delete top.key;
        top.isOpen = true;
        this.from = at + i + 1;
      } else i = this.#flowPiece(text, at, i) - 1;
    }
    if (isLast) this.#endInFlow(text, at);
  }

  /** Reads a key or a value of a flow level, and answers where it ends. */
  #flowPiece(text: string, at: number, i: number): number {
    const { top } = this;
    const quoted = /["']/.test(text.charAt(i));
    let end = quoted ? pastQuote(text, i) : i + 1;
    while (!quoted && end < text.length && !/[,{}[\]]/.test(text.charAt(end))) {
      if (text.charAt(end) === ':' && /[ \t]|^$/.test(text.charAt(end + 1))) break;
      if (startsComment(text, end)) break;
      end++;
    }
    const piece = text
      .slice(i, end)
      .replace(/^["']|["']$/g, '')
      .trimEnd();
    const colon = /^[ \t]*:(?=[ \t]|$)/.exec(text.slice(end));
    if (top?.kind === 'map' && top.key === undefined && colon !== null) {
      top.key = piece;
      top.keys.add(piece);
      top.isOpen = true;
      this.from = at + end + colon[0].length;
      return end + colon[0].length;
    }
    if (top !== undefined) top.isOpen = false;
    this.from = at + i;
    return Math.max(end, i + 1);
  }

  #endInFlow(text: string, at: number): void {
    const { top } = this;
    if (top?.style !== 'flow') return;
    while (this.from < at + text.length && /[ \t]/.test(text.charAt(this.from - at))) this.from++;
    if (top.kind === 'list') this.place = 'entry';
    else this.place = top.key === undefined ? 'key' : 'value';
  }
}
