import { innerPoint } from '../geo/inner-point.ts';
import type { Item } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';
import { areaShape } from './area-shape.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { isPattern, patternPoints } from './pattern.ts';

/** The nearest take-off of the same name that stands before a landing, else the first one after it. */
const takeOffOfSameName = (landing: Item, tools: FactTools): Item | undefined => {
  const { items } = tools.plan;
  const at = items.indexOf(landing);
  const isIt = (item: Item): boolean => item.kind === 'take-off' && item.id.value === landing.id.value;
  return items.slice(0, at).findLast(isIt) ?? items.slice(at).find(isIt);
};

/** A landing of a name that no take-off bears may be anywhere, unless there is no take-off to name. */
const isAtSite = ({ kind }: Item, tools: FactTools): boolean =>
  kind === 'take-off' ||
  (kind === 'land' && !tools.plan.items.some((other) => other.kind === 'take-off' || other.kind === 'unread'));

const centreOf = (item: Item, tools: FactTools): LonLat | undefined => {
  const { shape, ring } = tools.ask(areaShape, item);
  return shape.kind === 'circle' ? shape.centre : innerPoint(ring);
};

/**
 * Where an item is: its own position; the site's take-off place for a take-off without one; the take-off of the same
 * name for a landing without one, or the site's where no take-off has a name; for an area its centre, or a place inside it.
 */
export const itemPlace = defineFact({
  name: 'item-place',
  derive: (item: Item, tools: FactTools): LonLat => {
    const what = `the position of ${item.id.value}`;
    // A pattern begins at the first of its points.
    if (isPattern(item)) return given(tools.ask(patternPoints, item)[0]?.at, what).value;
    if (item.kind === 'area') return given(centreOf(item, tools), what);
    if (item.at !== undefined) return item.at.value;
    const site = tools.plan.site.takeOff?.at?.value;
    const takeOff = item.kind === 'land' ? takeOffOfSameName(item, tools) : undefined;
    if (takeOff !== undefined) return tools.ask(itemPlace, takeOff);
    return given(isAtSite(item, tools) ? site : undefined, what);
  },
});
