import {
  amountOf,
  asSection,
  asText,
  dateOrTimeOf,
  type Field,
  fieldOf,
  oneOrMore,
  present,
  type Section,
  textOf,
  wordOf,
} from './fields.ts';
import type { AirspaceReference, FileReference, TerrainReference } from './references.ts';

/** A reference: the path alone, or a group of keys with the path under `file`. */
const readReference = <R extends FileReference>(
  field: Field,
  more: (section: Section) => { readonly [K in Exclude<keyof R, keyof FileReference>]: R[K] | undefined },
): R | undefined => {
  if (field.node.kind !== 'mapping') return asText(field) as R | undefined;
  const section = asSection(field);
  const file = textOf(section, 'file');
  if (section === undefined || file === undefined) return undefined;
  const parts = {
    edition: textOf(section, 'edition'),
    retrieved: dateOrTimeOf(section, 'retrieved'),
    ...more(section),
  };
  return { ...file, ...present<object>(parts) } as R;
};

export const readFiles = (section: Section | undefined, key: string): readonly FileReference[] =>
  oneOrMore(fieldOf(section, key)).flatMap((field) => readReference<FileReference>(field, () => ({})) ?? []);

export const readAirspace = (root: Section | undefined): readonly AirspaceReference[] =>
  oneOrMore(fieldOf(root, 'airspace')).flatMap(
    (field) => readReference<AirspaceReference>(field, (each) => ({ mapping: textOf(each, 'mapping') })) ?? [],
  );

export const readTerrain = (root: Section | undefined): readonly TerrainReference[] =>
  oneOrMore(fieldOf(root, 'terrain')).flatMap(
    (field) =>
      readReference<TerrainReference>(field, (each) => ({
        is: wordOf(each, 'is', ['ground', 'surface']),
        error: amountOf(each, 'error', 'length'),
      })) ?? [],
  );
