import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  InsertTextFormat,
  InsertTextMode,
  MarkupKind,
} from 'vscode-languageserver';
import { describeField, type FieldDescription } from '../../plan/describe.ts';
import type { Files } from '../../world/files.ts';
import { rangeBetween } from '../convert.ts';
import type { OpenDocument } from '../documents.ts';
import { suggestAmounts } from './amounts.ts';
import { withoutStops } from './blanks-to-fill.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import { suggestEntries, suggestKeys, suggestWhole } from './keys.ts';
import { suggestHalves, suggestPlaces } from './places.ts';
import { suggestFiles } from './references.ts';
import type { Suggestion } from './suggestion.ts';
import { type Known, suggestDays, suggestMoments, suggestWords } from './words.ts';

/** What the client can take, and where files are found. */
export interface CompletionTerms {
  readonly takesSnippets: boolean;
  /** Whether later lines of an inserted text can be left as they are. */
  readonly takesAsIs: boolean;
  /** Whether a suggestion may open the list again, by a command of the editor that ours knows. */
  readonly opensMore: boolean;
  readonly files: Files;
  readonly root: () => Promise<string>;
  readonly isGivenUp: () => boolean;
}

/** Values that other places of the text give the same key. */
const MOST_SAME = 8;
const sameElsewhere = (text: string, key: string, cursor: Cursor): readonly Suggestion[] => {
  const values = new Map<string, number>();
  const pattern = new RegExp(
    `(?:^|[\\s{,])${key.replace(/[^A-Za-z0-9-]/g, '\\$&')}:[ \\t]+([^\\n\\r,{}\\[\\]#"']+)`,
    'g',
  );
  for (const match of text.matchAll(pattern)) {
    const value = (match[1] ?? '').trim();
    const at = match.index + match[0].length - (match[1] ?? '').length;
    if (value === '' || at === cursor.from || value.length > 80) continue;
    values.set(value, (values.get(value) ?? 0) + 1);
  }
  return [...values]
    .sort(([, one], [, other]) => other - one)
    .slice(0, MOST_SAME)
    .map(([label, count]) => ({
      label,
      kind: CompletionItemKind.Value,
      detail: `${count === 1 ? 'as' : `${count} times`} elsewhere in this file`,
      rank: 3,
    }));
};

const keysOf = (cursor: Cursor): readonly string[] => cursor.path.filter((step) => typeof step === 'string');

/** Fields whose values are repeated within a plan; a name or a title is not. */
const isRepeated = ({ reads }: FieldDescription): boolean =>
  reads !== undefined && !['format', 'reference', 'position', 'latitude', 'longitude', 'word'].includes(reads);

const suggestValue = async (
  document: OpenDocument,
  cursor: Cursor,
  field: FieldDescription,
  known: Known,
  terms: CompletionTerms,
): Promise<readonly Suggestion[]> => {
  const keys = keysOf(cursor);
  const key = keys.at(-1) ?? '';
  const { plan } = known;
  const { reads } = field;
  const choices = (field.choices ?? []).map((label) => ({ label, kind: CompletionItemKind.EnumMember, rank: 0 }));
  const places =
    plan === undefined
      ? []
      : reads === 'position' || reads === 'stands'
        ? suggestPlaces(plan, cursor.style)
        : reads === 'latitude' || reads === 'longitude'
          ? suggestHalves(plan, reads)
          : [];
  const days =
    reads === 'date' || reads === 'date-or-time'
      ? suggestDays(known)
      : reads === 'instant'
        ? suggestMoments(known)
        : [];
  const files =
    reads === 'reference' || (field.list && describeField(cursor.shape, [...cursor.path, 0])?.reads === 'reference')
      ? await suggestFiles(keys, document.location, await terms.root(), terms.files, terms.isGivenUp)
      : [];
  const isName = cursor.path.length === 1 && key === cursor.shape && key !== 'land' && key !== 'take-off';
  return [
    ...choices,
    ...suggestWords(keys, known),
    ...files,
    ...places,
    ...days,
    ...suggestAmounts(field, cursor.typed),
    ...(isRepeated(field) && !isName ? sameElsewhere(document.text, key, cursor) : []),
  ];
};

/** What can be written where the cursor stands, whatever the text around it looks like. */
const suggest = async (
  document: OpenDocument,
  cursor: Cursor,
  known: Known,
  terms: CompletionTerms,
): Promise<readonly Suggestion[]> => {
  const { shape, path, place } = cursor;
  if (place === 'key') {
    const group = describeField(shape, path);
    const isList = group?.list === true && group.keys === undefined;
    if (isList || (path.length === 1 && path[0] === 'route')) {
      const entries = suggestEntries({ ...cursor, isNewItem: path[0] === 'route' && path.length === 1 });
      return entries.map((each) => ({ ...each, text: `- ${each.text ?? each.label}`, matched: each.label }));
    }
    // An item whose kind is not told yet.
    return cursor.isNewItem ? suggestEntries(cursor) : [...suggestWhole(cursor), ...suggestKeys(cursor)];
  }
  if (place === 'value') {
    const field = describeField(shape, path);
    return field === undefined ? [] : suggestValue(document, cursor, field, known, terms);
  }
  const dash = cursor.needsDash ? '- ' : '';
  const entries = suggestEntries(cursor);
  const entry = describeField(shape, [...path, 0]);
  const values =
    entry === undefined || cursor.isNewItem
      ? []
      : await suggestValue(document, { ...cursor, path: [...path, 0] }, entry, known, terms);
  return [...entries, ...values].map((each) =>
    dash === '' ? each : { ...each, text: `${dash}${each.text ?? each.label}`, matched: each.matched ?? each.label },
  );
};

const itemOf = (
  suggestion: Suggestion,
  order: number,
  document: OpenDocument,
  cursor: Cursor,
  lead: string,
  terms: CompletionTerms,
): CompletionItem => {
  const { label, kind, detail, documentation, matched, rank = 1 } = suggestion;
  const written = suggestion.text ?? label;
  const lines = terms.takesAsIs ? written.replaceAll('\n', `\n${lead}`) : written;
  const isSnippet = suggestion.isSnippet === true && terms.takesSnippets;
  const newText = isSnippet ? lines : suggestion.isSnippet === true ? withoutStops(lines) : lines;
  return {
    label,
    kind,
    sortText: `${rank}${String(order).padStart(5, '0')}`,
    filterText: matched ?? label,
    textEdit: { range: rangeBetween(document.lines, cursor.from, cursor.to), newText },
    insertTextFormat: isSnippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    ...(terms.takesAsIs ? { insertTextMode: InsertTextMode.asIs } : {}),
    ...(detail === undefined || detail === '' ? {} : { detail }),
    ...(documentation === undefined ? {} : { documentation: { kind: MarkupKind.PlainText, value: documentation } }),
    ...(suggestion.opensMore === true && terms.opensMore
      ? { command: { title: 'Show what can stand here', command: 'editor.action.triggerSuggest' } }
      : {}),
  };
};

const NOTHING: CompletionList = { isIncomplete: false, items: [] };

/** Whether what is offered hangs on the number or the path that has been typed so far. */
const hangsOnTyped = (cursor: Cursor): boolean => cursor.place !== 'key';

/** Completion at an offset of a document. Works in any text, also one that the parser refuses. */
export const complete = async (
  document: OpenDocument,
  offset: number,
  known: Known,
  terms: CompletionTerms,
): Promise<CompletionList> => {
  const cursor = cursorAt(document.text, offset, document.language);
  if (cursor === undefined) return NOTHING;
  const suggestions = await suggest(document, cursor, known, terms);
  const seen = new Set<string>();
  const each = suggestions.filter(({ label }) => !seen.has(label) && seen.add(label) !== undefined);
  const lineStart = document.text.lastIndexOf('\n', offset - 1) + 1;
  const lead = /^ */.exec(document.text.slice(lineStart))?.[0] ?? '';
  return {
    isIncomplete: hangsOnTyped(cursor),
    items: each.map((suggestion, order) => itemOf(suggestion, order, document, cursor, lead, terms)),
  };
};
