import { heightOverGround } from '../geo/quadratic.ts';
import type { Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { aboveSea, type LonLat, type MetresAboveSea, onGround } from '../units/frames.ts';
import { isMissing, type Missing } from '../world/world.ts';
import { bandOf } from './area-band.ts';
import { areaGround } from './area-height.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import { heightAtItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';

/** The highest that a flight gets above the sea, and where. */
export interface HighPlace {
  readonly altitude: MetresAboveSea;
  /** "leg home to ridge" */
  readonly subject: string;
  readonly at: LonLat;
  readonly written: Span;
}

export interface HighestAltitude extends Partly {
  readonly highest?: HighPlace;
}

/** The altitude of a straight leg is linear, so one of its ends is the highest. */
const highOnLeg = (leg: Leg, tools: FactTools): HighPlace => {
  const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const path = tools.ask(pathOfLeg, leg);
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'straight') {
    const atStart = craft.start.aboveSea >= craft.end.aboveSea;
    const { aboveSea: altitude, written } = atStart ? craft.start : craft.end;
    const item = atStart ? leg.from : leg.to;
    return { altitude, subject, at: path.at(atStart ? 0 : path.length), written: written?.span ?? item.id.span };
  }
  // A craft at sea level all along is as far below the ground as the ground is high.
  const { least, gaps } = heightOverGround(tools.ask(legGround, leg), aboveSea(0), aboveSea(0), path.length);
  if (least === undefined || gaps.length > 0)
    throw new NotAssessed(`the terrain has no data along a part of ${subject}`);
  const altitude = aboveSea(-least.value + craft.height + craft.within);
  return { altitude, subject, at: path.at(least.along), written: craft.written.span };
};

const highInArea = (item: Item, tools: FactTools): HighPlace => {
  const { upper } = bandOf(item);
  const subject = `area ${item.id.value}`;
  if (!('aboveGround' in upper.value)) {
    const altitude = heightAtItem(upper, item, tools).aboveSea;
    return { altitude, subject, at: tools.ask(itemPlace, item), written: upper.span };
  }
  const ground = tools.ask(areaGround, item);
  const altitude = onGround(ground.greatest, upper.value.aboveGround);
  return { altitude, subject, at: ground.greatestAt, written: upper.span };
};

export const highestAltitude = defineFact({
  name: 'highest-altitude',
  derive: (flight: Flight, tools: FactTools): HighestAltitude => {
    const lacking: Missing[] = [];
    let highest: HighPlace | undefined;
    const take = (ask: () => HighPlace): void => {
      const found = orLacking(ask);
      if (isMissing(found)) lacking.push(found);
      else if (highest === undefined || found.known.altitude > highest.altitude) highest = found.known;
    };
    for (const item of tools.ask(flownItems, flight)) {
      const leg = routePlaceOf(item, tools).arriving;
      if (leg !== undefined) take(() => highOnLeg(leg, tools));
      if (item.kind === 'area') take(() => highInArea(item, tools));
    }
    return { lacking, ...(highest !== undefined && { highest }) };
  },
});
