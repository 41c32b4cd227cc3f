import type { Position, Range, TextDocumentContentChangeEvent } from 'vscode-languageserver';
import { Lines } from '../text/lines.ts';
import type { Trees } from './trees.ts';

export type Language = 'mission' | 'aircraft' | 'settings' | 'mapping';

const LANGUAGES: ReadonlyMap<string, Language> = new Map([
  ['waywarden-mission', 'mission'],
  ['waywarden-aircraft', 'aircraft'],
  ['waywarden-settings', 'settings'],
  ['waywarden-mapping', 'mapping'],
]);

/** The language of a document. Other clients name it as they like, so the file's name is looked at too. */
export const languageOf = (languageId: string, uri: string): Language => {
  const told = LANGUAGES.get(languageId);
  if (told !== undefined) return told;
  const name =
    uri
      .replace(/[?#].*$/, '')
      .split('/')
      .pop() ?? '';
  if (/\.aircraft\.ya?ml$/.test(name)) return 'aircraft';
  if (/\.mapping\.ya?ml$/.test(name)) return 'mapping';
  return /^waywarden\.settings\.ya?ml$/.test(name) ? 'settings' : 'mission';
};

/**
 * An editor shows past states of a file beside the present one, under addresses of their own. What they refer to is not
 * to be had as it was then, and nobody can mend them, so they are not judged.
 */
export const isPastState = (uri: string): boolean => /^(git|vscode-local-history):/i.test(uri);

/** A document as the client has it open. `serial` is new for each text, also when a file is closed and opened again. */
export interface OpenDocument {
  readonly uri: string;
  readonly location: string;
  readonly language: Language;
  readonly version: number;
  readonly serial: number;
  readonly text: string;
  readonly lines: Lines;
  readonly trees: Trees;
}

/**
 * Offset of a protocol position. As the protocol has it, a character past the line's end counts as the end of the line,
 * before its line break.
 */
export const offsetAt = (text: string, lines: Lines, { line, character }: Position): number => {
  const start = lines.offset({ line, column: 0 });
  let end = lines.offset({ line: line + 1, column: 0 });
  if (end > start && text.charCodeAt(end - 1) === 10) end--;
  if (end > start && text.charCodeAt(end - 1) === 13) end--;
  return Math.max(start, Math.min(start + character, end));
};

const replace = (text: string, range: Range, by: string): string => {
  const lines = new Lines(text);
  const from = offsetAt(text, lines, range.start);
  const to = offsetAt(text, lines, range.end);
  return text.slice(0, Math.min(from, to)) + by + text.slice(Math.max(from, to));
};

/** A text after a client's changes, in their order. */
export const changed = (text: string, changes: readonly TextDocumentContentChangeEvent[]): string =>
  changes.reduce((now, change) => ('range' in change ? replace(now, change.range, change.text) : change.text), text);
