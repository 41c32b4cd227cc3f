import type { Plan } from '../../plan/model.ts';
import type { Mapping, TreeNode } from '../../plan/tree.ts';
import { endOf, startOf } from '../../text/span.ts';
import type { OpenDocument } from '../documents.ts';
import { covers } from '../trees.ts';
import type { BlankEdit } from './offer.ts';

const put = (at: number, text: string): BlankEdit => ({ from: at, to: at, text });

/** Puts a group into a list that is there, in the list's own style. Undefined where the list is none. */
const intoList = (list: TreeNode, entry: string, text: string): BlankEdit | undefined => {
  if (list.kind !== 'sequence') return undefined;
  const [first] = list.items;
  const last = list.items.at(-1);
  if (first === undefined || last === undefined)
    return list.style === 'flow' ? put(startOf(list.span) + 1, entry) : undefined;
  if (list.style === 'flow') return put(endOf(last.span), `, ${entry}`);
  const dash = text.lastIndexOf('-', startOf(first.span));
  return dash === -1 ? undefined : put(dash, `- ${entry}\n`);
};

const endOfLine = (text: string, offset: number): number => {
  const end = /[\r\n]|$/.exec(text.slice(offset));
  return offset + (end?.index ?? 0);
};

const itemAt = (document: OpenDocument, offset: number): Mapping | undefined => {
  for (const { role, root } of document.trees.of(document).blocks) {
    if (role === 'head' || role === 'tail' || root === undefined || !covers(root.span, offset)) continue;
    const route =
      role === 'whole' && root.kind === 'mapping' ? root.entries.find(({ key }) => key.text === 'route')?.value : root;
    const items = route?.kind === 'sequence' ? route.items : [];
    const item = items.find(({ span }) => covers(span, offset));
    if (item?.kind === 'mapping') return item;
  }
  return undefined;
};

/** Adds a group to the list `key` of the route item at an offset. Undefined where that cannot be done without a guess. */
export const entryInItem = (
  document: OpenDocument,
  offset: number,
  key: string,
  entry: string,
): BlankEdit | undefined => {
  const { text } = document;
  const item = itemAt(document, offset);
  const [first] = item?.entries ?? [];
  if (item === undefined || first === undefined) return undefined;
  const list = item.entries.find((each) => each.key.text === key);
  if (list !== undefined) return intoList(list.value, entry, text);
  if (item.style === 'flow') return put(endOf(item.entries.at(-1)?.span ?? first.span), `, ${key}: [${entry}]`);
  // Behind the item's first line its indentation is known: two columns further in than the dash.
  const end = endOf(first.span);
  if (/[\r\n]/.test(text.slice(startOf(first.span), end))) return undefined;
  const lineStart = text.lastIndexOf('\n', startOf(first.span)) + 1;
  const lead = /^ */.exec(text.slice(lineStart))?.[0].length ?? 0;
  const column = startOf(first.span) - lineStart;
  return put(endOfLine(text, end), `\n${' '.repeat(Math.max(0, column - lead))}${key}: [${entry}]`);
};

/** Adds a group to the top-level list `key` of a plan. */
export const entryInPlan = (document: OpenDocument, plan: Plan, key: string, entry: string): BlankEdit | undefined => {
  const { text } = document;
  for (const { role, root } of document.trees.of(document).blocks) {
    if (role === 'item' || root?.kind !== 'mapping') continue;
    const list = root.entries.find((each) => each.key.text === key);
    if (list !== undefined) return intoList(list.value, entry, text);
  }
  const { before, after } = plan.headEntry;
  return put(startOf(plan.headEnd), `${before}${key}: [${entry}]${after.replace(/\r\n?/g, '\n')}`);
};
