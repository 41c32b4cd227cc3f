import type { ShapeError, Validator } from '../shape/plan-shape.generated.js';
import { before, type Span } from '../text/span.ts';
import { describeField, type FieldDescription, type Path } from './describe.ts';
import { type Surroundings, skeletonOf } from './key-skeleton.ts';
import type { Notes } from './notes.ts';
import { sayReads } from './reads.ts';
import { nearestWord } from './scalars/nearest-word.ts';
import { coreKind, shapeValue } from './shape-value.ts';
import type { Entry, Mapping, TreeNode } from './tree.ts';

/** More unknown keys than these in one group are told as one slip: the group then is something else altogether. */
const MOST_UNKNOWN = 5;

/** Checks a tree against the schema's shape and tells every error in our words, on the exact key or value. */
export const checkShape = (root: TreeNode, validate: Validator, notes: Notes, surroundings: Surroundings): void => {
  const value = shapeValue(root, [], notes);
  if (validate(value)) return;
  const errors = validate.errors ?? [];
  const check: Check = { root, notes, surroundings, suggested: new Set(), missing: new Set() };
  tellUnknownKeys(errors, check);
  const rest = errors.filter((error) => error.keyword !== 'additionalProperties' && !tellError(error, check));
  // What remains comes from the rules that join others. It is left out only where one of those has been told.
  for (const error of rest) tellUntold(error, check);
};

interface Check {
  readonly root: TreeNode;
  readonly notes: Notes;
  readonly surroundings: Surroundings;
  /** Keys that unknown keys were taken for: they are not missing as well. */
  readonly suggested: Set<string>;
  /** Keys told as missing: several rules of a schema may ask for one key. */
  readonly missing: Set<string>;
}

/** The node an error is about, and what holds it. */
interface Place {
  readonly node: TreeNode;
  readonly path: Path;
  /** The key that holds the innermost group, or the place where findings about the whole stand. */
  readonly holder: Span;
  /** True where a node on the way has been told already. */
  readonly told: boolean;
}

const placeOf = (pointer: string, { root, notes, surroundings }: Check): Place => {
  let node = root;
  let holder = surroundings.home;
  let told = notes.isTold(root);
  const path: (string | number)[] = [];
  for (const step of pointer.split('/').slice(1)) {
    const key = step.replace(/~1/g, '/').replace(/~0/g, '~');
    if (node.kind === 'mapping') {
      const entry = entryOf(node, key);
      if (entry === undefined) break;
      node = entry.value;
      holder = entry.key.span;
      path.push(key);
    } else if (node.kind === 'sequence') {
      const item = node.items[Number(key)];
      if (item === undefined) break;
      node = item;
      holder = firstKeySpan(item);
      path.push(Number(key));
    } else break;
    told ||= notes.isTold(node);
  }
  return { node, path, holder, told };
};

/** The first entry of a key. */
export const entryOf = (mapping: Mapping, key: string): Entry | undefined =>
  mapping.entries.find((entry) => entry.key.text === key);

const firstKeySpan = (node: TreeNode): Span =>
  node.kind === 'mapping' ? (node.entries[0]?.key.span ?? node.span) : node.span;

const tellUnknownKeys = (errors: readonly ShapeError[], check: Check): void => {
  const byPlace = new Map<string, Set<string>>();
  for (const { keyword, instancePath, params } of errors) {
    if (keyword !== 'additionalProperties') continue;
    const keys = byPlace.get(instancePath);
    const key = String(params['additionalProperty']);
    if (keys === undefined) byPlace.set(instancePath, new Set([key]));
    else keys.add(key);
  }
  for (const [pointer, keys] of byPlace) {
    const { node, path, told } = placeOf(pointer, check);
    if (told || node.kind !== 'mapping') continue;
    const known = describeField(check.notes.shape, path)?.keys ?? [];
    const present = new Set(node.entries.map((entry) => entry.key.text));
    const absent = known.filter((key) => !present.has(key));
    const unknown = node.entries.filter((entry) => keys.has(entry.key.text) && !check.notes.isTold(entry.value));
    const many = unknown.length > MOST_UNKNOWN;
    unknown.forEach((entry, i) => {
      const key = entry.key.text;
      if ((many && i > 0) || (check.notes.broken && check.notes.hasSlipWithin(entry.value.span))) {
        check.notes.leaveOut(entry.value);
        return;
      }
      const suggestion = nearestWord(key, absent);
      if (suggestion !== undefined) check.suggested.add(`${pointer}/${suggestion}`);
      const others = many ? unknown.length - 1 : 0;
      const slip = { kind: 'key-unknown', key, ...(suggestion !== undefined && { suggestion }), others } as const;
      check.notes.refuse(entry.value, [...path, key], slip, entry.key.span);
    });
  }
};

/** Nothing has no characters to underline, so its key is. */
const visible = ({ node, holder }: Place): Span => (node.span.from === node.span.to ? holder : node.span);

/** Tells one error; false where it only joins other errors. */
const tellError = (error: ShapeError, check: Check): boolean => {
  const { keyword, params } = error;
  const place = placeOf(error.instancePath, check);
  const { node, path, told } = place;
  const { notes } = check;
  switch (keyword) {
    case 'required':
    case 'dependentRequired': {
      const key = String(params['missingProperty']);
      const missing = `${error.instancePath}/${key}`;
      if (!told && !check.suggested.has(missing) && !check.missing.has(missing)) tellMissing(key, place, check);
      check.missing.add(missing);
      return true;
    }
    case 'type':
    case 'enum':
    case 'const': {
      // Quotes around the format number change nothing.
      if (keyword === 'const' && node.kind === 'scalar' && node.text.trim() === '1') return true;
      // What a syntax error spoilt inside has been told; how the rest of it looks is no second mistake.
      if (notes.broken && notes.hasSlipWithin(node.span)) notes.leaveOut(node);
      else if (!told)
        notes.refuse(node, path, valueSlip(keyword, node, describeField(notes.shape, path)), visible(place));
      return true;
    }
    case 'minItems': {
      const count = node.kind === 'sequence' ? node.items.length : 0;
      if (!told)
        notes.refuse(node, path, {
          kind: 'value-of-wrong-kind',
          expected: `a list of at least ${String(params['limit'])}`,
          found: count === 0 ? 'an empty list' : `a list of ${count}`,
        });
      return true;
    }
    case 'minProperties': {
      const keys = describeField(notes.shape, path)?.keys ?? [];
      if (!told)
        notes.refuse(node, path, { kind: 'value-of-wrong-kind', expected: `one of ${keys.join(', ')}`, found: 'none' });
      return true;
    }
    case 'false schema': {
      const key = String(path.at(-1));
      const expected = `no "${key}" beside the other keys here`;
      if (!told) notes.refuse(node, path, { kind: 'value-of-wrong-kind', expected, found: `"${key}"` });
      return true;
    }
    default:
      return false;
  }
};

const tellMissing = (key: string, { node, path, holder }: Place, { notes, surroundings }: Check): void => {
  // Behind a syntax error may stand what seems to be missing.
  if (notes.broken || node.kind !== 'mapping') return;
  const skeleton = skeletonOf(key, node, describeField(notes.shape, [...path, key]), path.length === 0, surroundings);
  notes.tell(path.length === 0 ? [] : path, {
    kind: 'key-missing',
    span: holder,
    key,
    ...(skeleton && { skeleton: skeleton.text, insertAt: skeleton.at }),
  });
};

const valueSlip = (
  keyword: 'type' | 'enum' | 'const',
  node: TreeNode,
  field: FieldDescription | undefined,
): Parameters<Notes['refuse']>[2] => {
  if (node.kind === 'scalar' && node.text !== '' && keyword === 'const')
    return { kind: 'format-unknown', text: node.text };
  if (node.kind === 'scalar' && coreKind(node) !== 'nothing' && field?.choices !== undefined) {
    const suggestion = nearestWord(node.text, field.choices);
    return {
      kind: 'word-unknown',
      text: node.text,
      choices: field.choices,
      ...(suggestion !== undefined && { suggestion }),
    };
  }
  return { kind: 'value-of-wrong-kind', expected: sayExpected(field), found: sayFound(node) };
};

const tellUntold = (error: ShapeError, check: Check): void => {
  const { node, path, told } = placeOf(error.instancePath, check);
  if (told || check.notes.hasSlipWithin(node.span) || check.notes.broken || check.suggested.size > 0) return;
  if (error.keyword === 'if' && check.notes.slips.some(({ kind }) => kind === 'key-missing')) return;
  check.notes.refuse(node, path, {
    kind: 'value-of-wrong-kind',
    expected: sayExpected(describeField(check.notes.shape, path)),
    found: sayFound(node),
  });
};

/** "a height such as 60 m AGL" */
export const sayExpected = (field: FieldDescription | undefined): string => {
  if (field === undefined) return 'something else';
  if (field.choices !== undefined) return `one of ${field.choices.join(', ')}`;
  const example = field.examples.find((each) => typeof each === 'string' || typeof each === 'number');
  if (field.reads !== undefined && field.list) return `${sayReads(field.reads)}, or a list of them`;
  if (field.reads !== undefined) return `${sayReads(field.reads)}${example === undefined ? '' : ` such as ${example}`}`;
  if (field.list) return 'a list';
  return `keys and values (${(field.keys ?? []).slice(0, 5).join(', ')})`;
};

/** "nothing", "a list", "the number 60" */
export const sayFound = (node: TreeNode): string => {
  if (node.kind === 'sequence') return 'a list';
  if (node.kind === 'mapping') return 'keys and values';
  if (node.kind === 'opaque') return 'something that cannot be read';
  const short = node.text.length > 60 ? `${node.text.slice(0, 60)}…` : node.text;
  switch (coreKind(node)) {
    case 'nothing':
      return node.text === '' ? 'nothing' : `"${short}", which means nothing in YAML`;
    case 'truth value':
      return `the truth value "${short}"`;
    case 'number':
      return `the number ${short}`;
    case 'text':
      return `"${short}"`;
  }
};

/** Where findings about a document without any key stand: its start. */
export const startOfNode = (node: TreeNode): Span => before(node.span);
