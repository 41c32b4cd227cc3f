import type { Item } from './model.ts';
import { unnamed } from './read-items.ts';
import type { Slip } from './slip.ts';

/** Take-offs and landings are called by their place, which several of them may share. */
const isPlaceName = ({ kind }: Item): boolean => kind === 'take-off' || kind === 'land';

/** Tells each item whose name another item bears already, with a free name for it. */
export const repeatedNames = (items: readonly Item[]): readonly Slip[] => {
  const first = new Map<string, Item>();
  const taken = new Set(items.map(({ id }) => id.value));
  const slips: Slip[] = [];
  for (const item of items) {
    const name = item.id.value;
    if (name === unnamed(item.kind) || item.kind === 'hold' || item.kind === 'battery') continue;
    const earlier = first.get(name);
    if (earlier === undefined) {
      first.set(name, item);
      continue;
    }
    if (isPlaceName(item) && isPlaceName(earlier)) continue;
    const mended = freeName(name, taken);
    taken.add(mended);
    const subject = `${item.kind} ${name}`;
    slips.push({ kind: 'name-repeated', span: item.id.span, subject, name, first: earlier.id.span, mended });
  }
  return slips;
};

/** `ridge-2`, or the next number that is free. */
const freeName = (name: string, taken: ReadonlySet<string>): string => {
  let number = 2;
  while (taken.has(`${name}-${number}`)) number++;
  return `${name}-${number}`;
};
