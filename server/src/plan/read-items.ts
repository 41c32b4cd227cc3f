import type { Validator } from '../shape/plan-shape.generated.js';
import * as shapes from '../shape/plan-shape.generated.js';
import { after, type Span, type Written } from '../text/span.ts';
import { ITEM_SHAPES, type ItemShape } from './describe.ts';
import { readDrop } from './drop.ts';
import {
  amountOf,
  asText,
  elevationOf,
  fieldOf,
  heightOf,
  positionOf,
  present,
  type Section,
  sectionOf,
} from './fields.ts';
import type { Acceptance, AreaTerms, Insertion, Item, ItemKind, LegTerms } from './model.ts';
import { Notes } from './notes.ts';
import { readWindow } from './read-head.ts';
import { readOutline } from './read-outline.ts';
import { readPattern } from './read-pattern.ts';
import { readAccepts } from './read-statements.ts';
import { nearestWord } from './scalars/nearest-word.ts';
import { readFollows, readLegSpeed } from './scalars/speed.ts';
import { checkShape, entryOf } from './shape-errors.ts';
import type { Slip } from './slip.ts';
import type { BareSlip, Entry, Mapping, TreeNode } from './tree.ts';

const VALIDATORS: Readonly<Record<ItemShape, Validator>> = {
  'take-off': shapes.takeOff,
  point: shapes.point,
  area: shapes.area,
  survey: shapes.survey,
  corridor: shapes.corridor,
  land: shapes.land,
  battery: shapes.battery,
  circle: shapes.circle,
  hold: shapes.hold,
};

/** An item, and what is wrong with it. */
export interface ReadItem {
  readonly item: Item;
  readonly slips: readonly Slip[];
  readonly unread: readonly Span[];
}

/** The text around an item, and what the YAML layer had to say of it. */
export interface ItemSource {
  readonly node: TreeNode;
  readonly slips: readonly BareSlip[];
  readonly broken: boolean;
  readonly text: string;
  readonly eol: string;
  readonly insertion: Insertion;
}

export const readItem = (source: ItemSource): ReadItem => {
  const { node } = source;
  const told = node.kind === 'mapping' ? tellingEntry(node) : undefined;
  if (told === undefined || node.kind !== 'mapping') return unreadItem(source);
  const { kind, entry } = told;
  const named = entry.value.kind === 'scalar' && entry.value.text !== '' ? entry.value.text : undefined;
  const notes = new Notes(kind, named === undefined ? kind : `${kind} ${named}`, source);
  const home = named === undefined ? entry.key.span : entry.value.span;
  checkShape(node, VALIDATORS[kind], notes, { anchor: node.span.anchor, text: source.text, eol: source.eol, home });
  const nextKey = named === undefined ? undefined : nextKeyOf(node, entry, source);
  return finish(readKnown(kind, { node, path: [], notes }, home, source.insertion, nextKey), notes);
};

/** Where a key can be put in behind the name of an item. */
const nextKeyOf = (node: Mapping, { key, value }: Entry, { text, eol }: ItemSource): NextKey => {
  const lineStart = text.lastIndexOf('\n', key.span.from - 1) + 1;
  const indent = text.slice(lineStart, key.span.from).replace(/\S/g, ' ');
  return { at: after(value.span), before: node.style === 'flow' ? ', ' : eol + indent };
};

/** The entry that tells what an item is. */
const tellingEntry = (mapping: Mapping): { readonly kind: ItemShape; readonly entry: Entry } | undefined => {
  for (const kind of ITEM_SHAPES) {
    const entry = entryOf(mapping, kind);
    if (entry !== undefined) return { kind, entry };
  }
  return undefined;
};

const readKnown = (
  kind: ItemShape,
  section: Section,
  home: Span,
  insertion: Insertion,
  nextKey: NextKey | undefined,
): Item => {
  const { node, notes } = section;
  const id = readId(kind, section, home);
  const accepts: Acceptance[] = [...readAccepts(section)];
  const parts = readParts(kind, section, nextKey);
  const unread = notes.unread.length > 0;
  const item = present<Item>({ kind, span: node.span, id, insertion, ...parts, accepts, unread });
  accepts.forEach((acceptance, i) => {
    accepts[i] = { ...acceptance, item };
  });
  return item;
};

/** How an item without a name is called, so that sentences about it can be read. */
export const unnamed = (kind: ItemKind): string => (kind === 'unread' ? 'the unread item' : `the unnamed ${kind}`);

/** A hold is told by its time and has no name. */
const readId = (kind: ItemShape, section: Section, home: Span): Written<string> => {
  if (kind === 'hold') return { value: kind, span: home };
  return asText(fieldOf(section, kind)) ?? { value: unnamed(kind), span: home };
};

type NextKey = NonNullable<NonNullable<Item['pattern']>['nextKey']>;

type Parts = {
  readonly [K in
    | 'at'
    | 'altitude'
    | 'elevation'
    | 'climbTo'
    | 'hold'
    | 'drop'
    | 'lasts'
    | 'window'
    | 'leg'
    | 'area'
    | 'pattern']: Item[K] | undefined;
};

const NO_PARTS: Parts = {
  at: undefined,
  altitude: undefined,
  elevation: undefined,
  climbTo: undefined,
  hold: undefined,
  drop: undefined,
  lasts: undefined,
  window: undefined,
  leg: undefined,
  area: undefined,
  pattern: undefined,
};

const readParts = (kind: ItemShape, section: Section, nextKey: NextKey | undefined): Parts => {
  switch (kind) {
    case 'take-off':
      return {
        ...NO_PARTS,
        at: positionOf(section, 'at'),
        elevation: elevationOf(section, 'elevation'),
        climbTo: heightOf(section, 'climb-to'),
        window: readWindow(sectionOf(section, 'window')),
      };
    case 'point':
      return {
        ...NO_PARTS,
        at: positionOf(section, 'at'),
        altitude: heightOf(section, 'altitude'),
        hold: amountOf(section, 'hold', 'time'),
        drop: readDrop(sectionOf(section, 'drop')),
        leg: readLeg(sectionOf(section, 'leg')),
      };
    case 'area':
      return { ...NO_PARTS, area: readArea(section), leg: readLeg(sectionOf(section, 'leg')) };
    case 'survey':
    case 'corridor':
    case 'circle':
      return {
        ...NO_PARTS,
        pattern: readPattern(kind, section, { terms: readLegTerms(section), nextKey }),
        leg: readLeg(sectionOf(section, 'leg')),
      };
    case 'land':
      return {
        ...NO_PARTS,
        at: positionOf(section, 'at'),
        elevation: elevationOf(section, 'elevation'),
        leg: readLeg(sectionOf(section, 'leg')),
      };
    case 'hold':
      return { ...NO_PARTS, hold: amountOf(section, 'hold', 'time') };
    case 'battery':
      return { ...NO_PARTS, lasts: amountOf(section, 'for', 'time') };
    default:
      return NO_PARTS;
  }
};

const readLeg = (section: Section | undefined): LegTerms | undefined => section && readLegTerms(section);

/** The terms of a leg; those of a pattern's own legs stand among its keys. */
const readLegTerms = (section: Section): LegTerms => {
  const speed = readSpeed(section);
  return present<LegTerms>({
    span: section.node.span,
    speed: speed?.amount,
    speedIs: speed?.speedIs,
    follows: readFollowing(section),
  });
};

const readSpeed = (section: Section) => {
  const field = fieldOf(section, 'speed');
  const text = asText(field);
  if (field === undefined || text === undefined) return undefined;
  const read = readLegSpeed(text.value);
  if (!read.ok) {
    field.notes.refuse(field.node, field.path, read.slip);
    return undefined;
  }
  const { number, unit, value, speedIs } = read;
  return { amount: { number, unit, value, span: text.span }, speedIs };
};

const readFollowing = (section: Section): LegTerms['follows'] | undefined => {
  const field = fieldOf(section, 'follows');
  const text = asText(field);
  if (field === undefined || text === undefined) return undefined;
  const read = readFollows(text.value);
  if (read.ok) return { height: { ...read.height, span: text.span }, within: read.within, span: text.span };
  field.notes.refuse(field.node, field.path, read.slip);
  return undefined;
};

const readArea = (section: Section): AreaTerms => {
  const inside = sectionOf(section, 'inside');
  return present<AreaTerms>({
    inside: inside && readOutline(inside),
    insideSpan: inside?.node.span,
    from: heightOf(section, 'from'),
    to: heightOf(section, 'to'),
    lasts: amountOf(section, 'for', 'time'),
    speed: readSpeed(section)?.amount,
  });
};

const unreadItem = (source: ItemSource): ReadItem => {
  const { node, insertion } = source;
  const notes = new Notes('mission', 'the route', source);
  const keys = node.kind === 'mapping' ? node.entries.map(({ key }) => key.text) : [];
  const first = node.kind === 'mapping' ? node.entries[0] : undefined;
  const suggestion = keys.map((key) => nearestWord(key, ITEM_SHAPES)).find((word) => word !== undefined);
  const span = first?.key.span ?? node.span;
  if (node.kind === 'opaque' || source.broken) notes.leaveOut(node);
  else notes.refuse(node, [], { kind: 'item-unknown', keys, ...(suggestion !== undefined && { suggestion }) }, span);
  const id = { value: unnamed('unread'), span };
  return finish({ kind: 'unread', span: node.span, id, insertion, accepts: [], unread: true }, notes);
};

const finish = (item: Item, notes: Notes): ReadItem => ({ item, slips: notes.slips, unread: notes.unread });
