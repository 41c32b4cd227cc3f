import { MOST_ITEMS } from './nesting.ts';

/**
 * Where a plan's text can be taken apart: the head (all up to the first route item), one block per route item, and the
 * tail (the keys after the route). Each block is then parsed on its own, so that an unclosed quote or bracket stays
 * inside its item, and an edit costs one item.
 *
 * Taking apart is only done where lines and indentation alone prove the meaning. A block mapping at indentation T ends
 * every quoted, plain or bracketed value before the next line that starts at T (YAML 1.2.2, sections 6.1, 7.3 and 7.4),
 * so a line at T is a key of that mapping, and a dash at the indentation of the route is an item. Where the text begins
 * in another way, it is one block.
 */
export interface BlockText {
  readonly role: 'whole' | 'head' | 'item' | 'tail';
  readonly from: number;
  readonly to: number;
}

export interface Split {
  readonly blocks: readonly BlockText[];
  /** Set where the route has more items than are read; the rest is in no block. */
  readonly tooManyFrom?: number;
}

export const PLAIN_KEY = /^[A-Za-z][A-Za-z0-9_-]*[ \t]*:(?:[ \t]|$)/;
const ROUTE_KEY = /^route[ \t]*:(?:[ \t]+(?:#.*)?)?$/;
export const DASH = /^-(?:[ \t]|$)/;
const EXPLICIT = /^[?:](?:[ \t]|$)/;
const MARKER = /^(?:---|\.\.\.)(?:[ \t]|$)/;

export interface Line {
  readonly from: number;
  /** Just past the line break. */
  readonly next: number;
  /** Leading blanks; tabs do not count, as YAML does not count them. */
  readonly indent: number;
  /** From the first character that is no blank, without the line break. */
  readonly content: string;
}

export const lineAt = (text: string, from: number): Line => {
  const newline = text.indexOf('\n', from);
  const next = newline === -1 ? text.length : newline + 1;
  let end = newline === -1 ? text.length : newline;
  if (text.charCodeAt(end - 1) === 13 && end > from) end--;
  let start = from;
  while (start < end && text.charCodeAt(start) === 32) start++;
  return { from, next, indent: start - from, content: text.slice(start, end) };
};

export const isEmpty = (line: Line): boolean => /^[ \t]*(?:#.*)?$/.test(line.content);

/** The text with each lone CR made a line break that YAML knows. The length stays, so offsets hold. */
export const evenLines = (text: string): string => (text.includes('\r') ? text.replace(/\r(?!\n)/g, '\n') : text);

/** Takes a plan's text apart. The text has gone through `evenLines`; a byte order mark is in no block. */
export const splitText = (text: string): Split => {
  const start = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const whole: Split = { blocks: [{ role: 'whole', from: start, to: text.length }] };

  const first = firstKey(text, start);
  if (first === undefined) return whole;
  const top = first.indent;

  const route = findRoute(text, first.from, top);
  if (route === undefined) return whole;
  const firstItem = nextContent(text, route.next);
  if (firstItem === undefined || firstItem.indent < top || !DASH.test(firstItem.content)) return whole;

  const blocks: BlockText[] = [{ role: 'head', from: start, to: firstItem.from }];
  let itemFrom = firstItem.from;
  for (let at = firstItem.next; at < text.length; ) {
    const line = lineAt(text, at);
    at = line.next;
    if (isEmpty(line)) continue;
    if (line.indent === 0 && MARKER.test(line.content)) {
      if (isLastMarker(text, line)) continue;
      return whole;
    }
    if (line.indent === firstItem.indent && DASH.test(line.content)) {
      blocks.push({ role: 'item', from: itemFrom, to: line.from });
      itemFrom = line.from;
      if (blocks.length > MOST_ITEMS) return { blocks, tooManyFrom: itemFrom };
      continue;
    }
    // A mark of an explicit key beside the dashes is wrong in YAML, but the parser takes it for part of the list.
    if (line.indent <= firstItem.indent && EXPLICIT.test(line.content)) return whole;
    if (line.indent === top && !DASH.test(line.content) && !/^[\]}\t]/.test(line.content)) {
      if (hasMarker(text, line.next)) return whole;
      blocks.push({ role: 'item', from: itemFrom, to: line.from }, { role: 'tail', from: line.from, to: text.length });
      return { blocks };
    }
  }
  blocks.push({ role: 'item', from: itemFrom, to: text.length });
  return { blocks };
};

/** The first line that says something, when it is a plain key; one bare document start may stand before it. */
const firstKey = (text: string, start: number): Line | undefined => {
  let line = nextContent(text, start);
  if (line !== undefined && line.indent === 0 && /^---[ \t]*(?:[ \t]#.*)?$/.test(line.content)) {
    line = nextContent(text, line.next);
  }
  return line !== undefined && PLAIN_KEY.test(line.content) ? line : undefined;
};

const nextContent = (text: string, from: number): Line | undefined => {
  for (let at = from; at < text.length; ) {
    const line = lineAt(text, at);
    if (!isEmpty(line)) return line;
    at = line.next;
  }
  return undefined;
};

const findRoute = (text: string, from: number, top: number): Line | undefined => {
  for (let at = from; at < text.length; ) {
    const line = lineAt(text, at);
    at = line.next;
    if (line.indent === 0 && MARKER.test(line.content)) return undefined;
    if (line.indent === top && ROUTE_KEY.test(line.content)) return line;
  }
  return undefined;
};

const isLastMarker = (text: string, marker: Line): boolean =>
  /^\.\.\.[ \t]*(?:[ \t]#.*)?$/.test(marker.content) && nextContent(text, marker.next) === undefined;

const hasMarker = (text: string, from: number): boolean => {
  for (let at = from; at < text.length; ) {
    const line = lineAt(text, at);
    at = line.next;
    if (line.indent === 0 && MARKER.test(line.content) && !isLastMarker(text, line)) return true;
  }
  return false;
};
