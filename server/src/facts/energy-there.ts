import type { Item, Leg } from '../plan/model.ts';
import { type Share, share } from '../units/frames.ts';
import type { EnergySupply } from './energy-supply.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flightEnergy } from './flight-energy.ts';
import type { Partly } from './lacking.ts';
import { routePlaceOf } from './route-order.ts';
import { areaWaysDown, legWaysDown, type WayDown } from './way-home.ts';

/** What is left of the usable energy at an item, and what the ways down from there take. */
export interface EnergyThere extends Partly {
  readonly supply: EnergySupply;
  /** When the craft comes to the item; of an area, when it has been flown. At most so much where something is lacking. */
  readonly left: Share;
  /** To where the flight took off, and to the landing place that takes least; each at the speed that takes least. */
  readonly home: WayDown;
  readonly nearest: WayDown;
}

const least = (ways: readonly WayDown[]): WayDown => {
  const [first, ...more] = ways;
  if (first === undefined) throw new NotAssessed('the flight has no place to land at');
  return more.reduce((one, other) => (other.energy < one.energy ? other : one), first);
};

const arrivingAt = (item: Item, tools: FactTools): Leg => {
  const { arriving } = routePlaceOf(item, tools);
  if (arriving === undefined) throw new NotAssessed(`no leg leads to ${item.id.value}`);
  return arriving;
};

export const energyThere = defineFact({
  name: 'energy-there',
  derive: (item: Item, tools: FactTools): EnergyThere => {
    const leg = arrivingAt(item, tools);
    const flight = tools.plan.flights.find(({ number }) => number === leg.flight.number);
    if (flight === undefined) throw new NotAssessed(`${item.id.value} belongs to no flight that could be read`);
    const { supply, stages, lacking } = tools.ask(flightEnergy, flight);
    const own = item.kind === 'area' ? stages.findLast(({ stage }) => stage.item === item) : undefined;
    const last = own ?? stages.findLast(({ stage }) => stage.leg === leg);
    if (last === undefined) throw new NotAssessed(`${item.id.value} is no part of the flight's energy`);
    const ways =
      item.kind === 'area' ? areaWaysDown(item, flight, tools) : tools.ask(legWaysDown, leg).map(({ end }) => end);
    return {
      supply,
      left: share(last.after),
      home: least(ways.map(({ home }) => home)),
      nearest: least(ways.map(({ nearest }) => nearest)),
      lacking,
    };
  },
});
