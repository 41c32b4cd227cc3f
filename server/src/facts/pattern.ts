import type { Item, ItemKind } from '../plan/model.ts';
import { NotAssessed } from './fact.ts';

/** The items that stand for many legs. They are read and kept, and this version does not work the legs out. */
const PATTERNS: ReadonlySet<ItemKind> = new Set(['survey', 'corridor', 'circle']);

/** Nothing, or `NotAssessed` for an item that stands for many legs, so that every gap about it gives the true reason. */
export const refusePattern = (item: Item): void => {
  if (!PATTERNS.has(item.kind)) return;
  throw new NotAssessed(`${item.kind} ${item.id.value} is not worked out into legs in this version`);
};
