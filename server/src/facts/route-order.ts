import { hasPlace } from '../plan/flights.ts';
import type { FlightRef, Item, Leg, Plan } from '../plan/model.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flownItems, flownLegs } from './flown-legs.ts';

/** Where an item stands in its flight. */
export interface RoutePlace {
  readonly flight: FlightRef;
  /** The items before and after it that have a place: a hold or a change of battery happens where the craft is. */
  readonly before: Item | undefined;
  readonly after: Item | undefined;
  /** The leg that ends at the item, and the one that starts there. */
  readonly arriving: Leg | undefined;
  readonly leaving: Leg | undefined;
}

/** The place of every item in its flight, and of every point of a pattern. */
export const routeOrder = defineFact({
  name: 'route-order',
  derive: (plan: Plan, { ask }: FactTools): ReadonlyMap<Item, RoutePlace> => {
    const places = new Map<Item, RoutePlace>();
    for (const flight of plan.flights) {
      const items = ask(flownItems, flight);
      const legs = ask(flownLegs, flight);
      const arriving = new Map(legs.map((leg) => [leg.to, leg]));
      const leaving = new Map(legs.map((leg) => [leg.from, leg]));
      const ref: FlightRef = { number: flight.number, first: flight.first };
      items.forEach((item, i) => {
        const [arrival, departure] = [arriving.get(item), leaving.get(item)];
        places.set(item, {
          flight: ref,
          before: hasPlace(item) ? arrival?.from : items[i - 1],
          after: hasPlace(item) ? departure?.to : items[i + 1],
          arriving: arrival,
          leaving: departure,
        });
      });
      // A pattern whose points are flown has no legs itself.
      for (const item of flight.items) {
        if (places.has(item)) continue;
        places.set(item, { flight: ref, before: undefined, after: undefined, arriving: undefined, leaving: undefined });
      }
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
