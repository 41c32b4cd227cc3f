import aircraftSchema from '../../../schemas/aircraft.schema.json';
import mappingSchema from '../../../schemas/mapping.schema.json';
import missionSchema from '../../../schemas/mission.schema.json';
import settingsSchema from '../../../schemas/settings.schema.json';

/** Where a value stands: keys and list positions (from 0). */
export type Path = readonly (string | number)[];

/** A text that paths start from: a document, or a route item by its telling key. */
export type Shape = DocumentShape | ItemShape;

type DocumentShape = 'mission' | 'aircraft' | 'settings' | 'mapping';

export const ITEM_SHAPES = [
  'take-off',
  'point',
  'area',
  'survey',
  'corridor',
  'land',
  'battery',
  'circle',
  'hold',
] as const;
/** Telling keys in the order they are asked for: a point may have a `hold`, and a pattern a `circle`. */
export type ItemShape = (typeof ITEM_SHAPES)[number];

/** How the text of a value is read. */
export type Reads =
  | 'height'
  | 'length'
  | 'speed'
  | 'leg-speed'
  | 'time'
  | 'instant'
  | 'date'
  | 'date-or-time'
  | 'position'
  | 'latitude'
  | 'longitude'
  | 'mass'
  | 'angle'
  | 'pressure'
  | 'energy'
  | 'power'
  | 'share'
  | 'density'
  | 'surface'
  | 'power-at-speed'
  | 'temperature'
  | 'amount'
  | 'follows'
  | 'lost-link-action'
  | 'count'
  | 'shutter'
  | 'stands'
  | 'word'
  | 'text'
  | 'reference'
  | 'format';

/** What the schema says of one value, for hovers and completion. */
export interface FieldDescription {
  readonly description: string;
  readonly examples: readonly unknown[];
  readonly reads?: Reads;
  /** The units it may be written in, in words. */
  readonly unit?: string;
  /** Where the word comes from: law, standard, handbook, or coined. */
  readonly origin?: string;
  /** The words that may stand here. */
  readonly choices?: readonly string[];
  /** The keys that may stand here, where a group of keys is wanted. */
  readonly keys?: readonly string[];
  readonly required?: readonly string[];
  /** Whether it may be written as a list. */
  readonly list: boolean;
}

interface SchemaNode {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly enum?: readonly string[];
  readonly properties?: Readonly<Record<string, SchemaNode>>;
  readonly required?: readonly string[];
  readonly items?: SchemaNode;
  readonly $defs?: Readonly<Record<string, SchemaNode>>;
  readonly 'x-reads'?: Reads;
  readonly 'x-unit'?: string;
  readonly 'x-origin'?: string;
}

const ROOTS: Readonly<Record<DocumentShape, SchemaNode>> = {
  mission: missionSchema as SchemaNode,
  aircraft: aircraftSchema as SchemaNode,
  settings: settingsSchema as SchemaNode,
  mapping: mappingSchema as SchemaNode,
};

const isDocument = (shape: Shape): shape is DocumentShape => Object.hasOwn(ROOTS, shape);

/** What the schema says of the value at a path; undefined where no such key is known. */
export const describeField = (shape: Shape, path: Path): FieldDescription | undefined => {
  const root = isDocument(shape) ? ROOTS[shape] : ROOTS.mission;
  let node: SchemaNode | undefined = isDocument(shape) ? root : ownKey(root.$defs, shape);
  for (const step of path) {
    if (node === undefined) return undefined;
    node = followed(typeof step === 'number' ? node.items : ownKey(node.properties, step), root);
  }
  return node === undefined ? undefined : describe(node);
};

/** What a reference points to, under what stands beside it. */
const followed = (node: SchemaNode | undefined, root: SchemaNode): SchemaNode | undefined => {
  if (node?.$ref === undefined) return node;
  const target = followed(ownKey(root.$defs, node.$ref.slice('#/$defs/'.length)), root);
  return { ...target, ...node };
};

const ownKey = <T>(record: Readonly<Record<string, T>> | undefined, key: string): T | undefined =>
  record !== undefined && Object.hasOwn(record, key) ? record[key] : undefined;

const describe = (node: SchemaNode): FieldDescription => ({
  description: node.description ?? '',
  examples: node.examples ?? [],
  ...(node['x-reads'] && { reads: node['x-reads'] }),
  ...(node['x-unit'] !== undefined && { unit: node['x-unit'] }),
  ...(node['x-origin'] !== undefined && { origin: node['x-origin'] }),
  ...(node.enum && { choices: node.enum }),
  ...(node.properties && { keys: Object.keys(node.properties) }),
  ...(node.required && { required: node.required }),
  list: node.type === 'array' || (Array.isArray(node.type) && node.type.includes('array')),
});
