import { head as validateHead } from '../shape/plan-shape.generated.js';
import type { Span } from '../text/span.ts';
import { type Block, type Blocks, readBlocks } from './blocks.ts';
import type { Section } from './fields.ts';
import { flightsOf } from './flights.ts';
import type { Insertion, Plan } from './model.ts';
import { repeatedNames } from './names.ts';
import { inTextOrder, Notes } from './notes.ts';
import { readHead } from './read-head.ts';
import { type ReadItem, readItem } from './read-items.ts';
import { checkShape, entryOf } from './shape-errors.ts';
import type { BareSlip, Entry, Mapping, Scalar, TreeNode } from './tree.ts';

/** A plan as read, with the parts of its text, which hovers, completion and the next reading need. */
export interface PlanDocument {
  readonly plan: Plan;
  readonly blocks: Blocks;
  /** The items by the block that holds them alone. */
  readonly items: ReadonlyMap<Block, ReadItem>;
  readonly outside: ReadOutside;
}

/** What stands outside the items, read. */
interface ReadOutside {
  readonly notes: Notes;
  readonly head: ReturnType<typeof readHead>;
  readonly places: ReturnType<typeof placesOf>;
  /** The route, where it stands in the same block as the rest. */
  readonly route?: Entry;
}

/** Reads a plan. Total: whatever the text is, what can be read is in the plan and the rest is among its slips. */
export const readPlan = (text: string, document: string): Plan => readPlanDocument(text, document).plan;

/**
 * As `readPlan`, keeping the parts. With the earlier reading of the same document, unchanged blocks and their items are
 * taken over; their anchors move, so the earlier plan must not be used any more.
 */
export const readPlanDocument = (text: string, document: string, earlier?: PlanDocument): PlanDocument => {
  const blocks = readBlocks(text, document, earlier?.blocks);
  const whole = wholeOf(blocks);
  const outside = sameOutside(blocks, earlier) ?? readAround(blocks, whole);
  const { notes, route } = outside;

  const items = new Map<Block, ReadItem>();
  const read: ReadItem[] = [];
  for (const block of blocks.blocks) {
    if (block.role !== 'item') continue;
    const known = earlier?.blocks.eol === blocks.eol ? earlier.items.get(block) : undefined;
    const item = known ?? readItemBlock(block, blocks.eol);
    items.set(block, item);
    read.push(item);
  }
  if (route !== undefined) read.push(...readRouteInside(route.value, whole, blocks.eol, notes));

  const all = read.map(({ item }) => item);
  const slips = [...notes.slips, ...read.flatMap((each) => each.slips), ...repeatedNames(all)];
  const plan: Plan = {
    ...outside.head,
    document,
    items: all,
    flights: flightsOf(all, earlier?.plan.flights),
    slips: inTextOrder(slips),
    unread: [...notes.unread, ...read.flatMap((each) => each.unread)],
    ...outside.places,
    eol: blocks.eol,
  };
  return { plan, blocks, items, outside };
};

const readAround = (blocks: Blocks, whole: Block): ReadOutside => {
  const { head: notes, root, route } = readOutside(blocks, whole);
  const places = placesOf(blocks, whole, root?.node);
  return { notes, head: readHead(root), places, ...(route !== undefined && { route }) };
};

/** What the earlier reading found outside the items, where nothing of that has changed: the same objects, so that what rests on them stays. */
const sameOutside = (blocks: Blocks, earlier: PlanDocument | undefined): ReadOutside | undefined => {
  if (earlier === undefined || earlier.outside.route !== undefined || earlier.blocks.eol !== blocks.eol)
    return undefined;
  if (blocks.slips.length > 0 || earlier.blocks.slips.length > 0) return undefined;
  const outside = ({ blocks: all }: Blocks): readonly Block[] => all.filter(({ role }) => role !== 'item');
  const [before, now] = [outside(earlier.blocks), outside(blocks)];
  const hadItems = earlier.blocks.blocks.length > before.length;
  const hasItems = blocks.blocks.length > now.length;
  if (!hadItems || !hasItems || before.length !== now.length) return undefined;
  return now.every((block, i) => block === before[i]) ? earlier.outside : undefined;
};

/** The block that holds the keys before the route, or everything. */
const wholeOf = ({ blocks, document }: Blocks): Block =>
  blocks[0] ?? { role: 'whole', anchor: { document, at: 0 }, text: '', slips: [], broken: false };

interface Outside {
  readonly head: Notes;
  readonly root?: Section;
  /** The route, where it stands in the same block as the rest. */
  readonly route?: Entry;
}

/** Checks what stands outside the route items: head and tail as one group of keys. */
const readOutside = (blocks: Blocks, first: Block): Outside => {
  const outside = blocks.blocks.filter(({ role }) => role !== 'item');
  const slips = [...blocks.slips, ...outside.flatMap((block) => [...block.slips, ...strayLines(block, first)])];
  const broken =
    outside.some((block) => block.broken || strayLines(block, first).length > 0) || blocks.slips.length > 0;
  const notes = new Notes('mission', 'the plan', { slips: slips.filter((slip) => !isInRoute(slip, first)), broken });
  const root = joined(outside);
  if (root === undefined) {
    if (!broken) tellNoPlan(first, notes);
    return { head: notes };
  }
  if (root.kind !== 'mapping') {
    if (root.kind !== 'opaque' && !broken) {
      const expected = 'keys and values, beginning with mission: 1';
      const found = root.kind === 'sequence' ? 'a list' : 'a text';
      notes.refuse(root, [], { kind: 'value-of-wrong-kind', expected, found }, firstLineOf(first));
    }
    return { head: notes };
  }
  const inItems = blocks.blocks.some(({ role }) => role === 'item');
  const places = placesOf(blocks, first, root);
  const checked = withRoute(root, inItems);
  checkShape(checked, validateHead, notes, {
    anchor: first.anchor,
    text: first.text,
    eol: blocks.eol,
    home: places.titleSpan,
    insertBefore: places.headEnd,
    textOf: (anchor) => blocks.blocks.find((block) => block.anchor === anchor)?.text,
  });
  const route = entryOf(root, 'route');
  const checkedRoute = entryOf(checked, 'route');
  const isTold = checkedRoute !== undefined && notes.isTold(checkedRoute.value);
  const section = { node: root, path: [], notes };
  return { head: notes, root: section, ...(route !== undefined && !inItems && !isTold && { route }) };
};

/** What stands behind the route and is no key. Alone it would be a text or a list; there it belongs to nothing. */
const strayLines = (block: Block, first: Block): readonly BareSlip[] => {
  const { root } = block;
  if (block === first || root === undefined || root.kind === 'mapping' || root.kind === 'opaque') return [];
  const reason = 'this line has no colon followed by a blank, so it is neither a key nor part of a value';
  return [{ kind: 'yaml-broken', span: firstLineOf(block), reason }];
};

/** Slips of a route that stands in the whole block are told by its items. */
const isInRoute = (slip: BareSlip, block: Block): boolean => {
  const route = block.root?.kind === 'mapping' && block.role === 'whole' ? entryOf(block.root, 'route') : undefined;
  const items = route?.value.kind === 'sequence' ? route.value.items : [];
  return items.some((item) => isWithin(slip.span, item.span));
};

const isWithin = (span: Span, outer: Span): boolean =>
  span.anchor === outer.anchor && span.from >= outer.from && span.to <= outer.to;

/** Head and tail as one group of keys; each span keeps its own anchor. */
const joined = (outside: readonly Block[]): TreeNode | undefined => {
  const [first, ...rest] = outside.flatMap(({ root }) => (root === undefined ? [] : [root]));
  if (first?.kind !== 'mapping') return first;
  const entries = [first, ...rest].flatMap((root) => (root.kind === 'mapping' ? root.entries : []));
  return { ...first, entries };
};

/** For the check of the head a route with items is a list with something in it: its items are checked one by one. */
const withRoute = (root: Mapping, inItems: boolean): Mapping => {
  const route = entryOf(root, 'route');
  if (route === undefined) return root;
  if (!inItems && (route.value.kind !== 'sequence' || route.value.items.length === 0)) return root;
  const item: Scalar = { kind: 'scalar', text: 'item', style: 'quoted', span: route.span };
  const value: TreeNode = { kind: 'sequence', style: 'block', items: [item], span: route.value.span };
  return { ...root, entries: root.entries.map((entry) => (entry === route ? { ...entry, value } : entry)) };
};

const tellNoPlan = (block: Block, notes: Notes): void => {
  const span: Span = { anchor: block.anchor, from: 0, to: 0 };
  const insertAt: Span = { anchor: block.anchor, from: block.text.length, to: block.text.length };
  notes.tell([], { kind: 'key-missing', key: 'mission', span, skeleton: 'mission: 1\n', insertAt });
};

const readItemBlock = (block: Block, eol: string): ReadItem => {
  const { root, text, anchor, slips, broken } = block;
  const node: TreeNode =
    (root?.kind === 'sequence' ? root.items[0] : root) ??
    ({ kind: 'opaque', span: { anchor, from: 0, to: text.trimEnd().length } } as const);
  const indent = /^ */.exec(text)?.[0] ?? '';
  const after = lineEnd(text, node.span);
  const insertion: Insertion = { at: { anchor, from: 0, to: 0 }, after, indent, style: 'block' };
  return readItem({ node, slips, broken, text, eol, insertion });
};

/** The items of a route that stands in the same block as the rest, such as `route: [ ... ]`. */
const readRouteInside = (route: TreeNode, block: Block, eol: string, notes: Notes): readonly ReadItem[] => {
  if (route.kind !== 'sequence' || notes.isTold(route)) return [];
  return route.items.map((node) => {
    const lineStart = block.text.lastIndexOf('\n', node.span.from - 1) + 1;
    const insertion: Insertion =
      route.style === 'flow'
        ? { at: startOf(node.span), after: endOf(node.span), indent: '', style: 'flow' }
        : {
            at: { ...node.span, from: lineStart, to: lineStart },
            after: lineEnd(block.text, node.span),
            indent: /^ */.exec(block.text.slice(lineStart))?.[0] ?? '',
            style: 'block',
          };
    const slips = block.slips.filter((slip) => isWithin(slip.span, node.span));
    const broken = slips.some(({ kind }) => kind === 'yaml-broken' || kind === 'document-too-large');
    return readItem({ node, slips, broken, text: block.text, eol, insertion });
  });
};

/** The end of the line on which a span ends, before its line break. */
const lineEnd = (text: string, span: Span): Span => {
  const newline = text.indexOf('\n', span.to);
  const end = newline === -1 ? text.length : text.charAt(newline - 1) === '\r' ? newline - 1 : newline;
  return { ...span, from: end, to: end };
};

const endOf = (span: Span): Span => ({ ...span, from: span.to });

const startOf = (span: Span): Span => ({ ...span, to: span.from });

const placesOf = (
  { eol }: Blocks,
  first: Block,
  root: Mapping | undefined,
): Pick<Plan, 'titleSpan' | 'headEnd' | 'headEntry'> & { readonly routeSpan?: Span } => {
  const title = root && entryOf(root, 'title');
  const named = title?.value.kind === 'scalar' && title.value.text !== '' ? title.value.span : title?.key.span;
  const titleSpan = named ?? root?.entries[0]?.key.span ?? firstLineOf(first);
  const route = root && entryOf(root, 'route');
  const routeSpan = route?.key.span;
  return { titleSpan, ...newKeyPlace(first, root, routeSpan, eol), ...(routeSpan && { routeSpan }) };
};

/** Before the route; without a route, at the end of the text, or before the last key where the text does not end in a line of its own. */
const newKeyPlace = (
  { text, anchor }: Block,
  root: Mapping | undefined,
  route: Span | undefined,
  eol: string,
): Pick<Plan, 'headEnd' | 'headEntry'> => {
  const at = (offset: number): Span => ({ anchor, from: offset, to: offset });
  const lineStart = (offset: number): number => text.lastIndexOf('\n', offset - 1) + 1;
  const own = root?.entries.filter(({ span }) => span.anchor === anchor) ?? [];
  const first = own[0];
  const last = own[own.length - 1];
  if (first === undefined || last === undefined) return { headEnd: at(0), headEntry: { before: '', after: eol } };
  if (root?.style === 'flow') return { headEnd: at(last.span.to), headEntry: { before: ', ', after: '' } };
  const indent = ' '.repeat(first.key.span.from - lineStart(first.key.span.from));
  const headEntry = { before: indent, after: eol };
  if (route !== undefined && route.anchor === anchor) return { headEnd: at(lineStart(route.from)), headEntry };
  const ends = text.endsWith('\n') && !/^(?:---|\.\.\.)/m.test(text.slice(last.span.to));
  return { headEnd: at(ends ? text.length : lineStart(last.key.span.from)), headEntry };
};

const firstLineOf = ({ anchor, text }: Block): Span => {
  const from = text.length - text.trimStart().length;
  const newline = text.indexOf('\n', from);
  const line = text.slice(from, newline === -1 ? text.length : newline);
  return { anchor, from: line === '' ? 0 : from, to: line === '' ? 0 : from + Math.min(line.trimEnd().length, 200) };
};
