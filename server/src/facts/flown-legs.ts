import { hasPlace } from '../plan/flights.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import { defineFact, type FactTools } from './fact.ts';
import { orLacking } from './lacking.ts';
import { isPattern, patternPoints } from './pattern.ts';

/** The items that an item is flown as: a pattern's points, else itself. A pattern that cannot be worked out stays itself. */
export const flownAs = (item: Item, tools: FactTools): readonly Item[] => {
  if (!isPattern(item)) return [item];
  const points = orLacking(() => tools.ask(patternPoints, item));
  return 'missing' in points || points.known.length === 0 ? [item] : points.known;
};

/**
 * The items of a flight in the order in which they are flown, with the points of each pattern in its place. A pattern that
 * cannot be worked out stays in it as an item whose place is not known, so that the rest of the flight is judged.
 */
export const flownItems = defineFact({
  name: 'flown-items',
  derive: (flight: Flight, tools: FactTools): readonly Item[] =>
    flight.items.some(isPattern) ? flight.items.flatMap((item) => flownAs(item, tools)) : flight.items,
});

/**
 * The legs that were last made to an item. A leg that joins the same items in the same flight is the same object again, as
 * those of the text are, so that what was worked out for it stays. It decides about nothing else.
 */
const lastTo = new WeakMap<Item, Leg>();

/**
 * The legs that the craft flies, in their order. Whatever walks a flight asks for these and not for the legs of the text,
 * so that an item which stands for many legs is flown like any other.
 */
export const flownLegs = defineFact({
  name: 'flown-legs',
  derive: (flight: Flight, tools: FactTools): readonly Leg[] => {
    const items = tools.ask(flownItems, flight);
    if (items === flight.items) return flight.legs;
    const written = new Map(flight.legs.map((leg) => [leg.from, leg]));
    const ref = flight.legs[0]?.flight ?? { number: flight.number, first: flight.first };
    const placed = items.filter(hasPlace);
    return placed.slice(1).map((to, i): Leg => {
      const from = placed[i] ?? to;
      const known = [written.get(from), lastTo.get(to)].find(
        (leg) =>
          leg?.from === from && leg.to === to && leg.flight.number === ref.number && leg.flight.first === ref.first,
      );
      const leg = known ?? { from, to, flight: ref };
      lastTo.set(to, leg);
      return leg;
    });
  },
});
