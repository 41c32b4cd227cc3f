import { distance } from '../geo/geodesy.ts';
import { type FlatTree, flatten } from './flat-tree.ts';
import type { Item } from './model.ts';
import type { PlanDocument } from './read.ts';
import type { TreeNode } from './tree.ts';

/** One thing that is different in a plan. Texts are as written. */
export type Change =
  | { readonly kind: 'added' | 'dropped' | 'reordered'; readonly subject: string; readonly after?: string }
  | { readonly kind: 'renamed'; readonly subject: string; readonly before: string; readonly after: string }
  /** An item's place, and how far it moved in metres. */
  | {
      readonly kind: 'moved';
      readonly subject: string;
      readonly before: string;
      readonly after: string;
      readonly by: number;
    }
  | {
      readonly kind: 'changed';
      readonly subject: string;
      readonly field: string;
      readonly before: string | undefined;
      readonly after: string | undefined;
      /** Metres by which a height changed, where both are written from the same datum. */
      readonly by?: number;
    };

export interface PlanChanges {
  readonly changes: readonly Change[];
  /** New name by old, for items that were given another. */
  readonly renames: ReadonlyMap<string, string>;
}

interface FlatItem {
  readonly item: Item;
  readonly fields: FlatTree;
  /** Kind, name, and how many of these stand before it. */
  readonly key: string;
}

const nodeOf = (root: TreeNode | undefined): TreeNode | undefined => (root?.kind === 'sequence' ? root.items[0] : root);

/** The items with their trees: each has a block of its own, or all stand in the list of one block. */
const nodesOf = ({ blocks }: PlanDocument): readonly (TreeNode | undefined)[] => {
  const own = blocks.blocks.filter(({ role }) => role === 'item');
  if (own.length > 0) return own.map(({ root }) => nodeOf(root));
  const root = blocks.blocks[0]?.root;
  const route = root?.kind === 'mapping' ? root.entries.find(({ key }) => key.text === 'route')?.value : undefined;
  return route?.kind === 'sequence' ? route.items : [];
};

const itemsOf = (document: PlanDocument): readonly FlatItem[] => {
  const nodes = nodesOf(document);
  const seen = new Map<string, number>();
  return document.plan.items.map((item, i) => {
    const node = nodes[i];
    const name = `${item.kind} ${item.id.value}`;
    const before = seen.get(name) ?? 0;
    seen.set(name, before + 1);
    return { item, fields: node === undefined ? new Map() : flatten(node), key: `${name} ${before}` };
  });
};

const headOf = ({ blocks }: PlanDocument): FlatTree => {
  const flat = new Map<string, string>();
  for (const { role, root } of blocks.blocks) {
    if (role === 'item' || root?.kind !== 'mapping') continue;
    for (const [path, text] of flatten({ ...root, entries: root.entries.filter(({ key }) => key.text !== 'route') })) {
      flat.set(path, text);
    }
  }
  return flat;
};

const subjectOf = ({ kind, id }: Item): string => (kind === 'hold' ? 'hold' : `${kind} ${id.value}`);

/** How many of an item's fields, its name aside, another has just so. */
const likeness = (one: FlatItem, other: FlatItem): number => {
  let same = 0;
  for (const [path, text] of one.fields) if (path !== one.item.kind && other.fields.get(path) === text) same++;
  return same / Math.max(1, one.fields.size - 1, other.fields.size - 1);
};

/** Half of its fields and the same kind make an item the same under another name. */
const ALIKE = 0.5;

interface Pairs {
  readonly pairs: readonly (readonly [FlatItem, FlatItem])[];
  readonly dropped: readonly FlatItem[];
}

/** Which item became which: by kind and name, and of the rest the most alike. */
const pairUp = (before: readonly FlatItem[], after: readonly FlatItem[]): Pairs => {
  const byKey = new Map(after.map((each) => [each.key, each]));
  const pairs: (readonly [FlatItem, FlatItem])[] = [];
  const left: FlatItem[] = [];
  for (const one of before) {
    const same = byKey.get(one.key);
    if (same === undefined) left.push(one);
    else {
      pairs.push([one, same]);
      byKey.delete(one.key);
    }
  }
  const free = new Set(byKey.values());
  const dropped: FlatItem[] = [];
  for (const one of left) {
    let best: { readonly other: FlatItem; readonly like: number } | undefined;
    for (const other of free) {
      if (other.item.kind !== one.item.kind) continue;
      const like = likeness(one, other);
      if (like >= ALIKE && (best === undefined || like > best.like)) best = { other, like };
    }
    if (best === undefined) dropped.push(one);
    else {
      pairs.push([one, best.other]);
      free.delete(best.other);
    }
  }
  return { pairs, dropped };
};

/** The items that have to be taken out so that the others stand in the same order as before: as few as can be. */
const outOfOrder = (positions: readonly number[]): ReadonlySet<number> => {
  // The longest run of growing positions, by the last index of a run of each length.
  const tails: number[] = [];
  const previous: number[] = [];
  positions.forEach((position, i) => {
    let [length, end] = [0, tails.length];
    while (length < end) {
      const middle = (length + end) >> 1;
      if ((positions[tails[middle] ?? 0] ?? 0) < position) length = middle + 1;
      else end = middle;
    }
    previous[i] = length > 0 ? (tails[length - 1] ?? -1) : -1;
    tails[length] = i;
  });
  const kept = new Set<number>();
  for (let at = tails.at(-1) ?? -1; at >= 0; at = previous[at] ?? -1) kept.add(at);
  return new Set(positions.map((_, i) => i).filter((i) => !kept.has(i)));
};

const heightsOf = (item: Item, field: string) => {
  if (field === 'altitude') return item.altitude;
  if (field === 'climb-to') return item.climbTo;
  if (field === 'from') return item.area?.from;
  return field === 'to' ? item.area?.to : undefined;
};

/** Metres by which a height grew; undefined where it is none, or counts from another datum. */
const heightChange = (one: Item, other: Item, field: string): number | undefined => {
  const [before, after] = [heightsOf(one, field), heightsOf(other, field)];
  if (before === undefined || after === undefined || before.datum !== after.datum) return undefined;
  const [a] = Object.values(before.value);
  const [b] = Object.values(after.value);
  return typeof a === 'number' && typeof b === 'number' ? b - a : undefined;
};

const isPlace = (path: string): boolean => path === 'at' || path.startsWith('at.');

function* fieldChanges(
  subject: string,
  before: FlatTree,
  after: FlatTree,
  isTold: (path: string) => boolean,
): Iterable<Extract<Change, { kind: 'changed' }>> {
  for (const path of new Set([...before.keys(), ...after.keys()])) {
    const [old, now] = [before.get(path), after.get(path)];
    if (old === now || isTold(path)) continue;
    yield { kind: 'changed', subject, field: path, before: old, after: now };
  }
}

const placeText = (fields: FlatTree): string =>
  fields.get('at') ?? [fields.get('at.lat'), fields.get('at.lon')].filter((part) => part !== undefined).join(', ');

const ofPair = ([one, other]: readonly [FlatItem, FlatItem]): readonly Change[] => {
  const subject = subjectOf(other.item);
  const changes: Change[] = [];
  if (one.item.id.value !== other.item.id.value) {
    changes.push({ kind: 'renamed', subject, before: one.item.id.value, after: other.item.id.value });
  }
  const [from, to] = [one.item.at?.value, other.item.at?.value];
  const isMove = from !== undefined && to !== undefined && (from.lat !== to.lat || from.lon !== to.lon);
  if (isMove) {
    changes.push({
      kind: 'moved',
      subject,
      before: placeText(one.fields),
      after: placeText(other.fields),
      by: distance(from, to),
    });
  }
  const isTold = (path: string): boolean => path === other.item.kind || (isMove && isPlace(path));
  for (const change of fieldChanges(subject, one.fields, other.fields, isTold)) {
    const by = heightChange(one.item, other.item, change.field);
    changes.push(by === undefined ? change : { ...change, by });
  }
  return changes;
};

/**
 * What is different in a plan, item by item and field by field: what moved, rose, was added, dropped, renamed or flown in
 * another order. The order of keys, remarks and blanks are no change.
 */
export const changesBetween = (before: PlanDocument, after: PlanDocument): PlanChanges => {
  const [old, now] = [itemsOf(before), itemsOf(after)];
  const { pairs, dropped } = pairUp(old, now);
  const oldOf = new Map(pairs.map(([one, other]) => [other, old.indexOf(one)]));
  const kept = now.filter((each) => oldOf.has(each));
  const moved = outOfOrder(kept.map((each) => oldOf.get(each) ?? 0));
  const changes: Change[] = [...fieldChanges('the plan', headOf(before), headOf(after), () => false)];
  for (const one of dropped) changes.push({ kind: 'dropped', subject: subjectOf(one.item) });
  const byNew = new Map(pairs.map((pair) => [pair[1], pair]));
  now.forEach((each, i) => {
    const previous = now[i - 1];
    const where = previous === undefined ? 'at the beginning' : `after ${subjectOf(previous.item)}`;
    const pair = byNew.get(each);
    if (pair === undefined) changes.push({ kind: 'added', subject: subjectOf(each.item), after: where });
    else {
      if (moved.has(kept.indexOf(each)))
        changes.push({ kind: 'reordered', subject: subjectOf(each.item), after: where });
      changes.push(...ofPair(pair));
    }
  });
  const renames = new Map(
    pairs
      .filter(([one, other]) => one.item.id.value !== other.item.id.value)
      .map(([one, other]) => [one.item.id.value, other.item.id.value]),
  );
  return { changes, renames };
};
