import type { Written } from '../text/span.ts';
import type { CalendarDate, ZonedTime } from '../units/calendar.ts';
import type { Dimension } from '../units/convert.ts';
import type { Metres, MetresPerSecond, Seconds } from '../units/frames.ts';
import { describeField, type Path } from './describe.ts';
import type { Amount, DateOrTime, WrittenHeight, WrittenPosition } from './model.ts';
import type { Notes } from './notes.ts';
import { readCount } from './scalars/count.ts';
import { readHeight } from './scalars/height.ts';
import { readLostLinkAction } from './scalars/lost-link-action.ts';
import { readPosition, readPositionParts } from './scalars/position.ts';
import { readPowerAtSpeed } from './scalars/power.ts';
import { ABOVE_NOUGHT, ELEVATIONS, MOVING, readAmount } from './scalars/quantity.ts';
import type { Reading, SlipDetails } from './scalars/reading.ts';
import { readShutter } from './scalars/shutter.ts';
import { readDate, readDateOrTime, readTime } from './scalars/time.ts';
import type { Dimensions, UnitOf } from './scalars/unit-words.ts';
import { entryOf, sayExpected, sayFound } from './shape-errors.ts';
import { coreKind } from './shape-value.ts';
import type { Mapping, Scalar, Sequence, TreeNode } from './tree.ts';

/** A value that is there, where it stands, and who hears what is wrong with it. */
export interface Field<N extends TreeNode = TreeNode> {
  readonly node: N;
  readonly path: Path;
  readonly notes: Notes;
}

/** A group of keys being read. */
export type Section = Field<Mapping>;

/** The value of a key; undefined where it is absent or has been told to be unreadable. */
export const fieldOf = (section: Section | undefined, key: string): Field | undefined => {
  if (section === undefined) return undefined;
  const entry = entryOf(section.node, key);
  if (entry === undefined || section.notes.isTold(entry.value)) return undefined;
  return { node: entry.value, path: [...section.path, key], notes: section.notes };
};

/** Tells that a field is not of the kind wanted. The shape check has told it already, unless the schema is laxer. */
const refuseKind = ({ node, path, notes }: Field): undefined => {
  const expected = sayExpected(describeField(notes.shape, path));
  notes.refuse(node, path, { kind: 'value-of-wrong-kind', expected, found: sayFound(node) });
  return undefined;
};

const isScalarField = (field: Field): field is Field<Scalar> => field.node.kind === 'scalar';
const isSection = (field: Field): field is Section => field.node.kind === 'mapping';
const isListField = (field: Field): field is Field<Sequence> => field.node.kind === 'sequence';

export const asSection = (field: Field | undefined): Section | undefined =>
  field === undefined ? undefined : isSection(field) ? field : refuseKind(field);

export const sectionOf = (section: Section | undefined, key: string): Section | undefined =>
  asSection(fieldOf(section, key));

/** The entries of a list that have not been told to be unreadable. */
export const asList = (field: Field | undefined): readonly Field[] => {
  if (field === undefined) return [];
  if (!isListField(field)) {
    refuseKind(field);
    return [];
  }
  const { node, path, notes } = field;
  return node.items.flatMap((item, i) => (notes.isTold(item) ? [] : [{ node: item, path: [...path, i], notes }]));
};

export const listOf = (section: Section | undefined, key: string): readonly Field[] => asList(fieldOf(section, key));

/** A list, or the one entry that stands for a list of one. */
export const oneOrMore = (field: Field | undefined): readonly Field[] =>
  field === undefined || isListField(field) ? asList(field) : [field];

const scalarOf = (field: Field | undefined): Field<Scalar> | undefined => {
  if (field === undefined) return undefined;
  return isScalarField(field) && coreKind(field.node) !== 'nothing' ? field : refuseKind(field);
};

/** Reads a scalar; a refusal is told on the whole scalar. */
const readScalar = <T extends object>(field: Field | undefined, read: (text: string) => Reading<T>) => {
  const scalar = scalarOf(field);
  if (scalar === undefined) return undefined;
  const { node, path, notes } = scalar;
  const reading = read(node.text);
  if (reading.ok) return { ...reading, span: node.span };
  notes.refuse(node, path, reading.slip);
  return undefined;
};

export const asText = (field: Field | undefined): Written<string> | undefined => {
  const scalar = scalarOf(field);
  return scalar && { value: scalar.node.text.trim(), span: scalar.node.span };
};

export const textOf = (section: Section | undefined, key: string): Written<string> | undefined =>
  asText(fieldOf(section, key));

export const textsOf = (section: Section | undefined, key: string): readonly Written<string>[] =>
  oneOrMore(fieldOf(section, key)).flatMap((field) => asText(field) ?? []);

/** One of the words of the schema, which the shape check has compared. */
export const wordOf = <W extends string>(
  section: Section | undefined,
  key: string,
  words: readonly W[],
): Written<W> | undefined => {
  const text = textOf(section, key);
  const word = words.find((each) => each === text?.value);
  return text === undefined || word === undefined ? undefined : { value: word, span: text.span };
};

export const amountOf = <D extends Dimension>(
  section: Section | undefined,
  key: string,
  dimension: D,
): Amount<Dimensions[D]['value']> | undefined => {
  const read = readScalar(fieldOf(section, key), (text) => readAmount(text, dimension));
  return read && amount<D>(read);
};

/** A speed that is above nought: one of something that has to arrive. */
export const movingOf = (section: Section | undefined, key: string): Amount<MetresPerSecond> | undefined => {
  const read = readScalar(fieldOf(section, key), (text) => readAmount(text, 'speed', MOVING));
  return read && amount<'speed'>(read);
};

/** A quantity that cannot be nought: nothing flies for no time, on no energy, with no mass. */
export const positiveOf = <D extends keyof typeof ABOVE_NOUGHT>(
  section: Section | undefined,
  key: string,
  dimension: D,
): Amount<Dimensions[D]['value']> | undefined => {
  const read = readScalar(fieldOf(section, key), (text) => readAmount(text, dimension, ABOVE_NOUGHT[dimension]));
  return read && amount<D>(read);
};

/** `fly back and land`, `fly to home` */
export const lostLinkActionOf = (section: Section | undefined, key: string) =>
  readScalar(fieldOf(section, key), readLostLinkAction);

/** `180 W at 12 m/s` */
export const powerAtSpeed = (field: Field) => readScalar(field, readPowerAtSpeed);

/** How many entries a key has: those of a list, else one where it is there at all, read or not. */
export const entriesOf = (section: Section, key: string): number => {
  const value = entryOf(section.node, key)?.value;
  if (value === undefined) return 0;
  return value.kind === 'sequence' ? value.items.length : 1;
};

export const elevationOf = (section: Section | undefined, key: string): Amount<Metres> | undefined => {
  const read = readScalar(fieldOf(section, key), (text) => readAmount(text, 'length', ELEVATIONS));
  return read && amount<'length'>(read);
};

interface ReadNumber<D extends Dimension> extends Written<Dimensions[D]['value']> {
  readonly number: number;
  readonly unit: UnitOf<D>;
}

const amount = <D extends Dimension>({ number, unit, value, span }: ReadNumber<D>): Amount<Dimensions[D]['value']> => ({
  number,
  unit,
  value,
  span,
});

const DIMENSIONS: readonly Dimension[] = ['length', 'speed', 'time', 'mass', 'angle', 'temperature', 'share'];

/** A number with a unit of any dimension, compared in SI. */
export const anyAmountOf = (section: Section | undefined, key: string): Amount<number> | undefined => {
  const read = readScalar<{ number: number; unit: Amount<number>['unit']; value: number }>(
    fieldOf(section, key),
    (text) => {
      const readings = DIMENSIONS.map((dimension) => readAmount(text, dimension));
      // Of several refusals the one is told that knows the unit.
      return (
        readings.find(({ ok }) => ok) ??
        readings.find((each) => !each.ok && each.slip.kind !== 'unit-unknown') ??
        readAmount(text, 'length')
      );
    },
  );
  return read && { number: read.number, unit: read.unit, value: read.value, span: read.span };
};

export const countOf = (section: Section | undefined, key: string): Written<number> | undefined =>
  written(readScalar(fieldOf(section, key), readCount));

/** How long a shutter is open. */
export const shutterOf = (section: Section | undefined, key: string): Amount<Seconds> | undefined => {
  const read = readScalar(fieldOf(section, key), readShutter);
  return read && { number: read.number, unit: read.unit, value: read.value, span: read.span };
};

export const heightOf = (section: Section | undefined, key: string): WrittenHeight | undefined => {
  const read = readScalar(fieldOf(section, key), readHeight);
  if (read === undefined) return undefined;
  const { number, unit, datum, value, span } = read;
  return { number, unit, datum, value, span };
};

export const dateOf = (section: Section | undefined, key: string): Written<CalendarDate> | undefined =>
  written(readScalar(fieldOf(section, key), readDate));

export const timeOf = (section: Section | undefined, key: string): Written<ZonedTime> | undefined =>
  written(readScalar(fieldOf(section, key), readTime));

export const dateOrTimeOf = (section: Section | undefined, key: string): Written<DateOrTime> | undefined =>
  written(readScalar(fieldOf(section, key), readDateOrTime));

const written = <T>(read: Written<T> | undefined): Written<T> | undefined =>
  read && { value: read.value, span: read.span };

/** A position in one text, or in `lat` and `lon`. */
export const asPosition = (field: Field | undefined): WrittenPosition | undefined => {
  if (field === undefined) return undefined;
  if (isSection(field)) return positionIn(field);
  return written(readScalar(field, readPosition));
};

export const positionOf = (section: Section | undefined, key: string): WrittenPosition | undefined =>
  asPosition(fieldOf(section, key));

/** The position that the keys `lat` and `lon` of a group give. Its span is the group's. */
export const positionIn = (section: Section): WrittenPosition | undefined => {
  const lat = scalarOf(fieldOf(section, 'lat'));
  const lon = scalarOf(fieldOf(section, 'lon'));
  if (lat === undefined || lon === undefined) return undefined;
  const read = readPositionParts({ lat: lat.node.text, lon: lon.node.text });
  if (read.ok) return { value: read.value, span: section.node.span, parts: { lat: lat.node.span, lon: lon.node.span } };
  const { part, swappedParts, slip } = read;
  const blamed = part === 'lat' ? lat : lon;
  const other = part === 'lat' ? lon : lat;
  blamed.notes.refuse(blamed.node, blamed.path, withEdits(slip, lat.node, lon.node, swappedParts));
  other.notes.leaveOut(other.node);
  return undefined;
};

const withEdits = (
  slip: SlipDetails,
  lat: Scalar,
  lon: Scalar,
  swapped: { readonly lat: string; readonly lon: string } | undefined,
): SlipDetails => {
  if (slip.kind !== 'position-out-of-range' || swapped === undefined) return slip;
  const edits = [
    { span: lat.span, text: swapped.lat },
    { span: lon.span, text: swapped.lon },
  ];
  return { ...slip, edits };
};

/** An object of the parts that are there: an absent value leaves no key behind. */
export const present = <T extends object>(parts: { readonly [K in keyof T]: T[K] | undefined }): T =>
  Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined)) as T;
