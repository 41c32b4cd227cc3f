import { CompletionItemKind } from 'vscode-languageserver';
import type { FieldDescription } from '../../plan/describe.ts';
import { unitsOf } from './blanks-to-fill.ts';
import type { Suggestion } from './suggestion.ts';

const HEIGHT_ENDS = ['AGL', 'AMSL', 'above take-off', 'above ellipsoid'];
const DATUMS_TOLD: Readonly<Record<string, string>> = {
  AGL: 'above ground level, at that point',
  AMSL: 'above mean sea level',
  'above take-off': 'above the take-off place',
  'above ellipsoid': 'above the WGS 84 ellipsoid; needs a geoid grid',
};

/** What can stand behind the number of a field, in the order of the schema; none where the field has no unit. */
const endsOf = (field: FieldDescription): readonly { readonly text: string; readonly detail?: string }[] => {
  if (field.reads === 'height')
    return HEIGHT_ENDS.flatMap((datum) =>
      unitsOf(field).map((unit) => ({ text: `${unit} ${datum}`, detail: DATUMS_TOLD[datum] ?? '' })),
    );
  if (field.reads === 'leg-speed')
    return unitsOf(field).flatMap((unit) => [{ text: `${unit} over ground` }, { text: `${unit} through air` }]);
  if (field.reads === 'follows') return [{ text: 'm AGL within 5 m' }, { text: 'ft AGL within 15 ft' }];
  return unitsOf(field).map((text) => ({ text }));
};

/** Units, and datums, after a number; before one they wait with a blank for it. */
export const suggestAmounts = (field: FieldDescription, typed: string): readonly Suggestion[] => {
  const number = /^[-+\u2212]?\d+(?:\.\d+)?/.exec(typed)?.[0];
  if (number === undefined && typed.trim() !== '') return [];
  return endsOf(field).map(({ text, detail }) => ({
    label: `${number ?? '…'} ${text}`,
    kind: CompletionItemKind.Unit,
    ...(number === undefined ? { text: `\${1} ${text}`, isSnippet: true } : {}),
    ...(detail === undefined ? {} : { detail }),
    // "60m" is matched as well as "60 m".
    matched:
      number !== undefined && /^[-+\u2212]?[\d.]+\S/.test(typed) ? `${number}${text}` : `${number ?? ''} ${text}`,
    rank: 2,
  }));
};
