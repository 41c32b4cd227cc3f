import { ITEM_SHAPES, type ItemShape, type Path, type Shape } from '../../plan/describe.ts';
import type { Language } from '../documents.ts';
import { commentFrom, type Level, TextScan } from './text-scan.ts';

/** What is being written where the cursor stands. Offsets count in the document. */
export interface Cursor {
  readonly place: 'key' | 'value' | 'entry';
  /** The document, or the route item, that the path starts from. */
  readonly shape: Shape;
  /** Of a key: the group it stands in. Of a value: the value. Of an entry: the list. */
  readonly path: Path;
  /** True in a route item whose kind is not told yet; `shape` is then the mission and `path` leads to the route. */
  readonly isNewItem: boolean;
  readonly style: 'block' | 'flow';
  /** Column of a block's keys. */
  readonly indent: number;
  /** Keys that stand in the group already, before and after the cursor. */
  readonly keys: ReadonlySet<string>;
  /** What is written of it before the cursor. */
  readonly typed: string;
  readonly from: number;
  readonly to: number;
  /** Of a key: whether its colon stands there already. */
  readonly hasColon: boolean;
  /** Of an entry: whether its dash is still owed. */
  readonly needsDash: boolean;
}

const lineBounds = (text: string, offset: number): { readonly start: number; readonly end: number } => {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const newline = text.indexOf('\n', offset);
  const end = newline === -1 ? text.length : newline;
  return { start, end: end > start && text.charCodeAt(end - 1) === 13 ? end - 1 : end };
};

const scanTo = (text: string, offset: number): TextScan => {
  const scan = new TextScan();
  const { start } = lineBounds(text, offset);
  let at = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  while (at < start) {
    const newline = text.indexOf('\n', at);
    const end = newline === -1 ? text.length : newline;
    scan.line(text.slice(at, text.charCodeAt(end - 1) === 13 ? end - 1 : end), at, false);
    at = end + 1;
  }
  scan.line(text.slice(at, offset), at, true);
  return scan;
};

/** Keys of a block group that stand behind the cursor's line. */
const blockKeysAfter = (text: string, from: number, indent: number): readonly string[] => {
  const found: string[] = [];
  let at = text.indexOf('\n', from) + 1;
  while (at > 0 && at < text.length) {
    const next = text.indexOf('\n', at);
    const line = text.slice(at, next === -1 ? text.length : next).trimEnd();
    at = next === -1 ? -1 : next + 1;
    const blanks = /^ */.exec(line)?.[0].length ?? 0;
    const content = line.slice(blanks);
    if (content === '' || content.startsWith('#')) continue;
    if (blanks < indent || (blanks === indent && content.startsWith('- '))) break;
    const key = blanks === indent ? /^["']?([^\s#:"']+)["']?\s*:(?:\s|$)/.exec(content) : null;
    if (key?.[1] !== undefined) found.push(key[1]);
  }
  return found;
};

/** How far a flow group is looked through behind the cursor; one that is not closed must not take the whole plan. */
const FLOW_REACH = 2000;

const flowKeysAfter = (text: string, from: number): readonly string[] => {
  const found: string[] = [];
  let depth = 0;
  for (const [piece] of text.slice(from, from + FLOW_REACH).matchAll(/[{}[\]]|[^\s,{}[\]:"']+(?=["']?\s*:\s)|\n\S/g)) {
    if (/^\n/.test(piece)) break;
    if (/[{[]/.test(piece)) depth++;
    else if (/[}\]]/.test(piece)) {
      depth--;
      if (depth < 0) break;
    } else if (depth === 0) found.push(piece);
  }
  return found;
};

const keysOf = (level: Level, text: string, to: number): ReadonlySet<string> =>
  new Set([
    ...level.keys,
    ...(level.style === 'flow' ? flowKeysAfter(text, to) : blockKeysAfter(text, to, level.indent)),
  ]);

const pathOf = (levels: readonly Level[]): Path =>
  levels.flatMap((level) => (level.kind === 'list' ? level.index : (level.key ?? [])));

/** Where the piece that is being written ends behind the cursor. */
const endOfPiece = (text: string, scan: TextScan, offset: number): number => {
  const rest = text.slice(offset, lineBounds(text, offset).end);
  if (scan.place === 'key') return offset + (/^[^\s:,{}[\]#]*/.exec(rest)?.[0].length ?? 0);
  const piece = scan.top?.style === 'flow' ? (/^[^,{}[\]]*/.exec(rest)?.[0] ?? '') : rest;
  return offset + piece.slice(0, commentFrom(piece)).trimEnd().length;
};

/** What is being written at an offset; undefined in a comment, in a text of several lines, and behind a closed bracket. */
export const cursorAt = (text: string, offset: number, language: Language): Cursor | undefined => {
  const scan = scanTo(text, offset);
  const { place, levels, top } = scan;
  if (place === 'nothing' || top === undefined) return undefined;
  const to = endOfPiece(text, scan, offset);
  const quote = /^["']/.exec(text.charAt(scan.from)) === null ? 0 : 1;
  const closing = quote === 1 && to > scan.from + 1 && text.charAt(to - 1) === text.charAt(scan.from) ? 1 : 0;
  const from = Math.min(scan.from + quote, offset);
  const common = {
    place,
    style: top.style,
    indent: top.indent,
    keys: keysOf(top, text, to),
    typed: text.slice(from, offset),
    from,
    to: Math.max(offset, to - closing),
    needsDash: scan.needsDash,
    hasColon: place === 'key' && /^\s*:/.test(text.slice(to, lineBounds(text, to).end)),
  };
  const whole = pathOf(levels);
  const path = place === 'entry' ? whole.slice(0, -1) : whole;
  if (language !== 'mission' || path[0] !== 'route' || levels.length < 3) {
    const isRoute = language === 'mission' && path[0] === 'route' && path.length === 1;
    return { ...common, shape: language, path, isNewItem: isRoute && place === 'entry' };
  }
  const item = levels[2];
  const kind = item?.kind === 'map' ? kindOf(keysOf(item, text, to)) : undefined;
  if (kind === undefined) return { ...common, shape: 'mission', path: ['route'], isNewItem: levels.length === 3 };
  return { ...common, shape: kind, path: path.slice(2), isNewItem: false };
};

const kindOf = (keys: ReadonlySet<string>): ItemShape | undefined => ITEM_SHAPES.find((shape) => keys.has(shape));
