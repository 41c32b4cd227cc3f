import { innerPoint } from '../geo/inner-point.ts';
import type { Item } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, given } from './fact.ts';

/** The nearest take-off of the same name that stands before a landing. */
const takeOffOfSameName = (landing: Item, tools: FactTools): Item | undefined => {
  const { items } = tools.plan;
  for (let i = items.indexOf(landing) - 1; i >= 0; i--) {
    const item = items[i];
    if (item?.kind === 'take-off' && item.id.value === landing.id.value) return item;
  }
  return undefined;
};

const centreOf = (item: Item, tools: FactTools): LonLat | undefined => {
  const { shape, ring } = tools.ask(areaShape, item);
  return shape.kind === 'circle' ? shape.centre : innerPoint(ring);
};

/**
 * Where an item is: its own position; the site's take-off place for a take-off without one; the take-off of the same
 * name, else the site's, for a landing without one; for an area its centre, or a place inside it.
 */
export const itemPlace = defineFact({
  name: 'item-place',
  derive: (item: Item, tools: FactTools): LonLat => {
    const what = `the position of ${item.id.value}`;
    if (item.kind === 'area') return given(centreOf(item, tools), what);
    if (item.at !== undefined) return item.at.value;
    const site = tools.plan.site.takeOff?.at?.value;
    const takeOff = item.kind === 'land' ? takeOffOfSameName(item, tools) : undefined;
    if (takeOff !== undefined) return tools.ask(itemPlace, takeOff);
    return given(item.kind === 'take-off' || item.kind === 'land' ? site : undefined, what);
  },
});
