import type { AreaShape, Item, WrittenPosition } from './model.ts';

/** The outline that a hand-flown area or a survey lies in. */
export const outlineOf = ({ area, pattern }: Item): AreaShape | undefined =>
  area?.inside ?? (pattern?.kind === 'survey' ? pattern.outline : undefined);

/** The positions that are written for an item, with what each of them is; of its own place, of an outline, of a line. */
export const writtenPositions = (
  item: Item,
): readonly { readonly what: 'place' | 'middle' | 'corner'; readonly at: WrittenPosition }[] => {
  const { at, pattern } = item;
  const outline = outlineOf(item);
  const middle = outline?.kind === 'circle' ? outline.around : pattern?.kind === 'circle' ? pattern.around : undefined;
  const corners = outline?.kind === 'polygon' ? outline.ring : pattern?.kind === 'corridor' ? pattern.along : undefined;
  return [
    ...(at === undefined ? [] : [{ what: 'place', at } as const]),
    ...(middle === undefined ? [] : [{ what: 'middle', at: middle } as const]),
    ...(corners ?? []).map((corner) => ({ what: 'corner', at: corner }) as const),
  ];
};

/** How far an item reaches beyond its written positions, in metres. */
export const reachBeyondPositions = (item: Item): number => {
  const outline = outlineOf(item);
  const { pattern } = item;
  if (outline?.kind === 'circle') return outline.radius.value;
  if (pattern?.kind === 'circle') return pattern.radius?.value ?? 0;
  return pattern?.kind === 'corridor' ? (pattern.width?.value ?? 0) : 0;
};
