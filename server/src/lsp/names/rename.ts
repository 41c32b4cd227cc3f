import type { TextEdit } from 'vscode-languageserver';
import { inPlainText } from '../../rulebook/words.ts';
import type { NamedPlace } from './names-elsewhere.ts';
import type { Name } from './names-in.ts';

/** Why a name cannot be given, or undefined. */
export const flawOfName = (name: string, { kind, name: was }: Name, taken: readonly string[]): string | undefined => {
  if (name.trim() === '') return 'a name cannot be empty';
  if (/[\u0000-\u001f\u007f\u2028\u2029]/.test(name)) return 'a name stands on one line, without control characters';
  if (name.length > 200) return 'a name has at most 200 characters';
  if (kind === 'rule') return `"${was}" is the name of a rule of this program; it cannot be renamed`;
  if (name !== was && kind !== 'place' && taken.includes(name))
    return `"${name}" is the name of something else in this plan`;
  return undefined;
};

/** A name as it is written at a place, in the quotes that stand there. */
const writtenAs = (name: string, style: NamedPlace['style']): string =>
  style === 'json' ? JSON.stringify(name) : style === 'quoted' ? JSON.stringify(name) : inPlainText(name);

/** The edits of a rename, by location. */
export const renamed = (places: readonly NamedPlace[], name: string): ReadonlyMap<string, readonly TextEdit[]> => {
  const edits = new Map<string, TextEdit[]>();
  for (const { location, range, style } of places) {
    const own = edits.get(location) ?? [];
    own.push({ range, newText: writtenAs(name, style) });
    edits.set(location, own);
  }
  return edits;
};
