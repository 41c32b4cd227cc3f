import { describeField, type Path } from './describe.ts';
import type { Notes } from './notes.ts';
import { readsAs } from './reads.ts';
import type { SlipDetails } from './scalars/reading.ts';
import type { Entry, Mapping, Scalar, Sequence, TreeNode } from './tree.ts';

/** Repeated keys told of one group of keys; the rest shows when these are mended. */
const MOST_REPEATED = 20;

const INTEGER = /^[-+]?[0-9]+$|^0o[0-7]+$|^0x[0-9a-fA-F]+$/;
const FLOAT =
  /^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$|^[-+]?\.(?:inf|Inf|INF)$|^\.(?:nan|NaN|NAN)$/;

/** What the YAML 1.2.2 core schema (section 10.3.2) takes a plain scalar for. */
export const coreKind = ({ text, style }: Scalar): 'text' | 'nothing' | 'truth value' | 'number' => {
  if (style !== 'plain') return 'text';
  if (text === '' || /^(?:~|null|Null|NULL)$/.test(text)) return 'nothing';
  if (/^(?:true|True|TRUE|false|False|FALSE)$/.test(text)) return 'truth value';
  return INTEGER.test(text) || FLOAT.test(text) ? 'number' : 'text';
};

/**
 * A tree as the value that the validators check. Only the kinds of scalars matter there: the texts are read by our own
 * readers, and no number made here reaches arithmetic. On the way it tells repeated keys and commas inside `{ }`.
 */
export const shapeValue = (node: TreeNode, path: Path, notes: Notes): unknown => {
  switch (node.kind) {
    case 'opaque':
      notes.leaveOut(node);
      return null;
    case 'scalar':
      return scalarValue(node);
    case 'sequence':
      tellHalvedPositions(node, path, notes);
      return node.items.map((item, i) => shapeValue(item, [...path, i], notes));
    case 'mapping':
      return mappingValue(node, path, notes);
  }
};

/** Inside `[ ]` a comma parts entries, so each half of an unquoted position becomes an entry. That is told once. */
const tellHalvedPositions = (node: Sequence, path: Path, notes: Notes): void => {
  if (describeField(notes.shape, [...path, 0])?.reads !== 'position') return;
  const isHalf = (item: TreeNode): boolean => item.kind === 'scalar' && /^[-+]?[\d.]+$/.test(item.text);
  if (node.style !== 'flow' || !node.items.some(isHalf)) return;
  const text = node.items.flatMap((item) => (item.kind === 'scalar' ? item.text : [])).join(', ');
  const reason = 'inside [ ] a comma begins another entry, so each position needs quotes or { lat: ..., lon: ... }';
  notes.refuse(node, path, { kind: 'position-unreadable', text, reason });
};

const scalarValue = (scalar: Scalar): unknown => {
  switch (coreKind(scalar)) {
    case 'nothing':
      return null;
    case 'truth value':
      return true;
    case 'number':
      // Infinity and what is no number are numbers for YAML, and told by the readers of quantities.
      return Number.isFinite(Number(scalar.text)) ? Number(scalar.text) : 0;
    case 'text':
      return scalar.text;
  }
};

const mappingValue = (mapping: Mapping, path: Path, notes: Notes): Record<string, unknown> => {
  tellCommas(mapping, path, notes);
  // Without a prototype, so that no key of a plan means anything but itself.
  const value = Object.create(null) as Record<string, unknown>;
  const first = new Map<string, Entry>();
  const repeated = new Set<string>();
  for (const entry of mapping.entries) {
    const key = entry.key.text;
    // A word after a comma that belongs to the value before it is no key.
    if (entry.lone && notes.isTold(entry.value)) continue;
    const earlier = first.get(key);
    if (earlier === undefined) {
      first.set(key, entry);
      value[key] = shapeValue(entry.value, [...path, key], notes);
      continue;
    }
    notes.leaveOut(earlier.value);
    notes.leaveOut(entry.value);
    if (repeated.has(key) || repeated.size >= MOST_REPEATED) continue;
    repeated.add(key);
    notes.tell([...path, key], { kind: 'key-repeated', span: entry.key.span, key, first: earlier.key.span });
  }
  return value;
};

/** `{ altitude: 1,5 m AGL }` holds two keys for YAML; whoever wrote it meant one value. */
const tellCommas = (mapping: Mapping, path: Path, notes: Notes): void => {
  if (mapping.style !== 'flow' || !mapping.entries.some(({ lone }) => lone)) return;
  const known = new Set(describeField(notes.shape, path)?.keys ?? []);
  mapping.entries.forEach((entry, i) => {
    const { value } = entry;
    if (entry.lone || value.kind !== 'scalar' || value.style !== 'plain' || value.text === '') return;
    const pieces = [value.text];
    let end = value.span.to;
    for (const next of mapping.entries.slice(i + 1)) {
      if (!next.lone || known.has(next.key.text)) break;
      // The blanks between are not kept by the tree, but their number is.
      pieces.push(' '.repeat(Math.max(0, next.key.span.from - end - 1)) + next.key.text);
      end = next.key.span.to;
      notes.leaveOut(next.value);
    }
    if (pieces.length === 1) return;
    const text = pieces.join(',');
    notes.refuse(value, [...path, entry.key.text], commaSlip(text, [...path, entry.key.text], notes), {
      ...value.span,
      to: end,
    });
  });
};

const commaSlip = (text: string, path: Path, notes: Notes): SlipDetails => {
  const reads = describeField(notes.shape, path)?.reads;
  const reading = readsAs(reads, text);
  if (reading !== undefined && !reading.ok) return reading.slip;
  if (reads === 'latitude' || reads === 'longitude') {
    const reason = 'it has a comma where the decimal point belongs, and inside { } a comma begins another key';
    return { kind: 'position-unreadable', text, reason, mended: text.replace(',', '.') };
  }
  if (reads === 'position' || reads === 'stands') {
    const reason = 'inside { } a comma begins another key, so a position needs quotes there';
    return { kind: 'position-unreadable', text, reason, mended: `"${text}"` };
  }
  return {
    kind: 'value-of-wrong-kind',
    expected: 'a value in quotes, since inside { } a comma begins another key',
    found: text,
  };
};
