import type { Flight, Item, Plan } from '../plan/model.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';

/** Where an item stands in its flight. */
export interface RoutePlace {
  readonly flight: Flight;
  readonly before: Item | undefined;
  readonly after: Item | undefined;
}

/** The place of every item in its flight. */
export const routeOrder = defineFact({
  name: 'route-order',
  derive: (plan: Plan): ReadonlyMap<Item, RoutePlace> => {
    const places = new Map<Item, RoutePlace>();
    for (const flight of plan.flights) {
      flight.items.forEach((item, i) => {
        places.set(item, { flight, before: flight.items[i - 1], after: flight.items[i + 1] });
      });
    }
    return places;
  },
});

export const routePlaceOf = (item: Item, tools: FactTools): RoutePlace => {
  const place = tools.ask(routeOrder, tools.plan).get(item);
  if (place === undefined) throw new NotAssessed(`${item.id.value} belongs to no flight that could be read`);
  return place;
};
