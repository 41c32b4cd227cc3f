import type { Anchor, Span } from '../text/span.ts';
import { LONGEST_BLOCK, LONGEST_TEXT, MOST_ITEMS } from './nesting.ts';
import { readAroundErrors } from './recover.ts';
import { type BlockText, evenLines, splitText } from './split.ts';
import { type BareSlip, readPiece, type Tree } from './tree.ts';

/** A part of a document that is parsed on its own. Its spans count from its anchor. */
export interface Block extends Tree {
  readonly role: BlockText['role'];
  readonly anchor: Anchor;
  readonly text: string;
}

export interface Blocks {
  readonly document: string;
  readonly blocks: readonly Block[];
  /** What is wrong with the document as a whole. */
  readonly slips: readonly BareSlip[];
  readonly eol: '\n' | '\r\n';
}

/**
 * Reads a plan's text into blocks. Blocks of an earlier reading whose text stands unchanged are taken over, with their
 * anchors moved to where they stand now.
 */
export const readBlocks = (text: string, document: string, earlier?: Blocks): Blocks => {
  const refusal = refuseText(text, document);
  if (refusal !== undefined) return refusal;
  const even = evenLines(text);
  const { blocks: parts, tooManyFrom } = splitText(even);
  const kept = new Map<string, Block[]>();
  for (const block of earlier?.blocks ?? []) {
    const key = `${block.role} ${block.text}`;
    const same = kept.get(key);
    if (same === undefined) kept.set(key, [block]);
    else same.push(block);
  }
  for (const same of kept.values()) same.reverse();
  const blocks = parts.map(({ role, from, to }) => {
    const part = even.slice(from, to);
    const same = kept.get(`${role} ${part}`)?.pop();
    if (same === undefined) return readBlock(role, part, { document, at: from });
    same.anchor.at = from;
    return same;
  });
  return { document, blocks, slips: tooManyItems(tooManyFrom, document), eol: eolOf(text) };
};

/** Reads a document that has no route in one piece. */
export const readWhole = (text: string, document: string): Blocks => {
  const refusal = refuseText(text, document);
  if (refusal !== undefined) return refusal;
  const from = text.charCodeAt(0) === 0xfeff ? 1 : 0;
  const block = readBlock('whole', evenLines(text).slice(from), { document, at: from });
  return { document, blocks: [block], slips: [], eol: eolOf(text) };
};

const readBlock = (role: BlockText['role'], text: string, anchor: Anchor): Block => {
  if (text.length > LONGEST_BLOCK) {
    const what = role === 'whole' ? 'a text that is not one key per line down to its route' : 'a part of the plan';
    const reason = `${what} is read up to ${sayCount(LONGEST_BLOCK)} characters; this has ${sayCount(text.length)}`;
    return {
      role,
      anchor,
      text,
      slips: [{ kind: 'document-too-large', span: startOfText(anchor), reason }],
      broken: true,
    };
  }
  const tree = readPiece({ text, at: 0 }, anchor);
  return { role, anchor, text, ...(tree.broken ? readAroundErrors(text, anchor, tree) : tree) };
};

/** A text that is not read at all: too long, or not a text. */
const refuseText = (text: string, document: string): Blocks | undefined => {
  const anchor: Anchor = { document, at: 0 };
  const refuse = (slip: BareSlip): Blocks => {
    const block: Block = { role: 'whole', anchor, text: '', slips: [], broken: true };
    return { document, blocks: [block], slips: [slip], eol: '\n' };
  };
  if (text.length > LONGEST_TEXT) {
    const reason = `a plan is read up to ${sayCount(LONGEST_TEXT)} characters; this has ${sayCount(text.length)}`;
    return refuse({ kind: 'document-too-large', span: startOfText(anchor), reason });
  }
  const strange = strangeCharacters(text);
  if (strange === undefined) return undefined;
  const span: Span = { anchor, from: strange, to: strange + 1 };
  return refuse({ kind: 'yaml-broken', span, reason: 'this is no text: it holds characters that no keyboard writes' });
};

/** Where the first control character stands in a text that is no text; undefined for a text. */
const strangeCharacters = (text: string): number | undefined => {
  const nul = text.indexOf('\0');
  if (nul !== -1) return nul;
  let first: number | undefined;
  let count = 0;
  for (const found of text.matchAll(/[\u0001-\u0008\u000e-\u001f\u007f\ufffd]/g)) {
    first ??= found.index;
    count++;
  }
  return first !== undefined && count * 20 > text.length ? first : undefined;
};

const tooManyItems = (from: number | undefined, document: string): readonly BareSlip[] => {
  if (from === undefined) return [];
  const span: Span = { anchor: { document, at: from }, from: 0, to: 1 };
  const reason = `a route is read up to ${sayCount(MOST_ITEMS)} items; what follows is not read`;
  return [{ kind: 'document-too-large', span, reason }];
};

/** The first character, so that there is something to underline. */
const startOfText = (anchor: Anchor): Span => ({ anchor, from: 0, to: 1 });

const eolOf = (text: string): '\n' | '\r\n' => (/\r\n/.test(text) ? '\r\n' : '\n');

/** `1,000,000` */
const sayCount = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ',');
