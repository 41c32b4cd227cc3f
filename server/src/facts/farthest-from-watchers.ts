import type { Flight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { orLacking, type Partly } from './lacking.ts';
import { routePlaceOf } from './route-order.ts';
import { areaSlantRanges, legSlantRanges, type SlantRange, type SlantRanges } from './slant-range.ts';

/** The farthest that one leg or area gets from each watcher. */
export interface FarPlace {
  readonly subject: string;
  readonly written: Span;
  readonly ranges: readonly SlantRange[];
}

export interface FarPlaces extends Partly {
  readonly places: readonly FarPlace[];
}

/** For each leg and area of a flight, how far it gets from each person who watches. */
export const farPlaces = defineFact({
  name: 'far-places',
  derive: (flight: Flight, tools: FactTools): FarPlaces => {
    const places: FarPlace[] = [];
    const lacking: Missing[] = [];
    const take = (subject: string, written: Span, ask: () => SlantRanges): void => {
      const found = orLacking(ask);
      if ('missing' in found) lacking.push(found);
      else {
        lacking.push(...found.known.lacking);
        places.push({ subject, written, ranges: found.known.ranges });
      }
    };
    for (const item of tools.ask(flownItems, flight)) {
      const leg = routePlaceOf(item, tools).arriving;
      if (leg !== undefined) {
        take(`leg ${leg.from.id.value} to ${leg.to.id.value}`, leg.to.id.span, () => tools.ask(legSlantRanges, leg));
      }
      if (item.kind === 'area') take(`area ${item.id.value}`, item.id.span, () => tools.ask(areaSlantRanges, item));
    }
    return { places, lacking };
  },
});
