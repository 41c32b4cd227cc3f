import { distance } from '../geo/geodesy.ts';
import type { Amount, Item } from '../plan/model.ts';
import { aboveSea, type Metres, type MetresAboveSea } from '../units/frames.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { itemPlace } from './item-place.ts';

export interface TakeOffElevation {
  readonly value: MetresAboveSea;
  /** The plan's own figure; absent where the terrain gave it. */
  readonly written?: Amount<Metres>;
}

/** Positions closer than this are the same place, in metres: seven decimals of a degree and some. */
const SAME_PLACE = 1;

/** The elevation in the plan that belongs to the place a flight starts from. */
const writtenElevation = (first: Item, tools: FactTools): Amount<Metres> | undefined => {
  if (first.kind === 'take-off' && first.elevation !== undefined) return first.elevation;
  const site = tools.plan.site.takeOff;
  if (first.kind !== 'take-off' || first.at === undefined) return site?.elevation;
  if (site?.at === undefined) return undefined;
  return distance(first.at.value, site.at.value) < SAME_PLACE ? site.elevation : undefined;
};

/**
 * Elevation of the place that heights above take-off count from, by the first item of a flight: as the plan has it, else
 * the ground there. A flight without a take-off item counts from the site's take-off place.
 */
export const takeOffElevation = defineFact({
  name: 'take-off-elevation',
  derive: (first: Item, tools: FactTools): TakeOffElevation => {
    const written = writtenElevation(first, tools);
    if (written !== undefined) return { value: aboveSea(written.value), written };
    const site = tools.plan.site.takeOff?.at?.value;
    const place = first.kind === 'take-off' ? tools.ask(itemPlace, first) : site;
    if (place === undefined) throw new NotAssessed('the take-off place is missing or could not be read');
    return { value: groundAtPlace(place, 'the take-off place', tools) };
  },
});
