import type { Flight, Item, Leg } from '../plan/model.ts';
import { type MetresPerSecond, metresPerSecond, type Share, share } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { isMissing } from '../world/world.ts';
import { legAirSpeed, strongestWind } from './air-speed.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { type EnergySupply, energySupply } from './energy-supply.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { flightStages, type Stage } from './flight-stages.ts';
import { orLacking, type Partly } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';

/** What is left of the usable energy when a stage begins and when it ends, in the worst wind of the window. */
export interface StageEnergy {
  readonly stage: Stage;
  readonly before: Share;
  readonly after: Share;
}

/**
 * The energy of a flight, as shares of what is usable. Where the energy of a stage cannot be worked out (`lacking`) it
 * counts as nothing, so that what is left after it is at most so much.
 */
export interface FlightEnergy extends Partly {
  readonly supply: EnergySupply;
  readonly stages: readonly StageEnergy[];
  /** Of the whole flight; above 1 where the energy does not suffice. */
  readonly used: Share;
}

/** Shorter than this is no way over the ground. */
const SAME_PLACE = 0.001;

/** Over one place a craft flies through the air as fast as the wind blows. */
const standing = (supply: EnergySupply, tools: FactTools): number =>
  supply.bySpeed ? Math.max(supply.hover, supply.level(metresPerSecond(0), strongestWind(tools))) : supply.hover;

const byHand = (item: Item, supply: EnergySupply, tools: FactTools): number => {
  if (!supply.bySpeed) return supply.hover;
  const own = item.area?.speed?.value;
  const fastest: MetresPerSecond =
    own !== undefined
      ? metresPerSecond(own + strongestWind(tools))
      : given(
          aircraftOfPlan(tools).cruiseSpeed,
          `the plan gives no speed for ${item.id.value}, and the cruise-speed of the aircraft`,
        ).value;
  return Math.max(supply.hover, supply.level(metresPerSecond(0), fastest));
};

const onLeg = (leg: Leg, stage: Stage, supply: EnergySupply, tools: FactTools): number => {
  const still = !supply.bySpeed || tools.ask(pathOfLeg, leg).length < SAME_PLACE;
  const air = still ? undefined : tools.ask(legAirSpeed, leg);
  const level = air === undefined ? standing(supply, tools) : supply.level(air.least, air.most);
  return stage.climbing * Math.max(supply.climb, level) + (stage.longest - stage.climbing) * level;
};

const energyOf = (stage: Stage, supply: EnergySupply, tools: FactTools): number => {
  if (stage.kind === 'leg' && stage.leg !== undefined) return onLeg(stage.leg, stage, supply, tools);
  if (stage.kind === 'climb-out' || stage.kind === 'let-down') {
    return stage.climbing * supply.climb + stage.descending * supply.descent;
  }
  if (stage.kind === 'area') return stage.longest * byHand(stage.item, supply, tools);
  return stage.longest * standing(supply, tools);
};

/**
 * Energy left through a flight: each stage takes its longest time, in the worst wind of the window, at the power of its
 * phase. E = sum of P t. Of a straight leg it falls evenly from one end to the other.
 */
export const flightEnergy = defineFact({
  name: 'flight-energy',
  derive: (flight: Flight, tools: FactTools): FlightEnergy => {
    const supply = tools.ask(energySupply, flight);
    const lacking: Missing[] = [];
    const stages: StageEnergy[] = [];
    let left = 1;
    for (const stage of tools.ask(flightStages, flight).stages) {
      const energy = stage.lacks ?? orLacking(() => energyOf(stage, supply, tools));
      if (isMissing(energy)) lacking.push(energy);
      const before = share(left);
      left -= isMissing(energy) ? 0 : energy.known;
      stages.push({ stage, before, after: share(left) });
    }
    return { supply, stages, used: share(1 - left), lacking };
  },
});
