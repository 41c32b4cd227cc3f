import type { FlightRef, Item, Leg, Plan } from '../plan/model.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';

/** Where an item stands in its flight. */
export interface RoutePlace {
  readonly flight: FlightRef;
  readonly before: Item | undefined;
  readonly after: Item | undefined;
  /** The leg that ends at the item, and the one that starts there. */
  readonly arriving: Leg | undefined;
  readonly leaving: Leg | undefined;
}

/** The place of every item in its flight. */
export const routeOrder = defineFact({
  name: 'route-order',
  derive: (plan: Plan): ReadonlyMap<Item, RoutePlace> => {
    const places = new Map<Item, RoutePlace>();
    for (const flight of plan.flights) {
      const arriving = new Map(flight.legs.map((leg) => [leg.to, leg]));
      const leaving = new Map(flight.legs.map((leg) => [leg.from, leg]));
      flight.items.forEach((item, i) => {
        places.set(item, {
          flight: { number: flight.number, first: flight.first },
          before: flight.items[i - 1],
          after: flight.items[i + 1],
          arriving: arriving.get(item),
          leaving: leaving.get(item),
        });
      });
    }
    return places;
  },
});

/** The place of one item: small, so that an edit elsewhere in the route leaves it equal. */
const routePlace = defineFact({
  name: 'route-place',
  derive: (item: Item, tools: FactTools): RoutePlace => {
    const place = tools.ask(routeOrder, tools.plan).get(item);
    if (place === undefined) throw new NotAssessed(`${item.id.value} belongs to no flight that could be read`);
    return place;
  },
});

export const routePlaceOf = (item: Item, tools: FactTools): RoutePlace => tools.ask(routePlace, item);
