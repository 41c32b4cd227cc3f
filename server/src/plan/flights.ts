import type { Flight, FlightRef, Item, ItemKind, Leg } from './model.ts';

/** The items that have a place of their own; a hold or a change of battery happens where the aircraft is. */
const WITH_PLACE: ReadonlySet<ItemKind> = new Set([
  'take-off',
  'point',
  'area',
  'land',
  'survey',
  'corridor',
  'circle',
  'unread',
]);

/** Whether legs lead to and from an item. */
export const hasPlace = ({ kind }: Item): boolean => WITH_PLACE.has(kind);

/**
 * Parts a route into flights: a take-off begins a new one. Legs join the items with a place in their order. An item
 * that could not be read counts as having a place, so that no leg is made up that passes it by. Legs of an earlier
 * reading are taken over where they join the same items, so that what was worked out for them stays.
 */
export const flightsOf = (items: readonly Item[], earlier: readonly Flight[] = []): readonly Flight[] => {
  const known = new Map<Item, Leg>();
  for (const flight of earlier) for (const leg of flight.legs) known.set(leg.from, leg);

  const groups: Item[][] = [];
  for (const item of items) {
    const group = groups.at(-1);
    if (group === undefined || item.kind === 'take-off') groups.push([item]);
    else group.push(item);
  }
  return groups.flatMap((group, i) => {
    const [first] = group;
    if (first === undefined) return [];
    return [{ number: i + 1, items: group, legs: legsOf(group, { number: i + 1, first }, known), first }];
  });
};

const legsOf = (items: readonly Item[], flight: FlightRef, known: ReadonlyMap<Item, Leg>): readonly Leg[] => {
  const legs: Leg[] = [];
  let from: Item | undefined;
  for (const to of items) {
    if (!hasPlace(to)) continue;
    if (from !== undefined) legs.push(sameLeg(known.get(from), to, flight) ?? { from, to, flight });
    from = to;
  }
  return legs;
};

const sameLeg = (leg: Leg | undefined, to: Item, flight: FlightRef): Leg | undefined =>
  leg?.to === to && leg.flight.number === flight.number && leg.flight.first === flight.first ? leg : undefined;
