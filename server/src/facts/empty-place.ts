import type { Flight } from '../plan/model.ts';
import { type LonLat, type Metres, metres } from '../units/frames.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flightEnergy, type StageEnergy } from './flight-energy.ts';
import { itemPlace } from './item-place.ts';
import { orLacking } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';

/** Where the usable energy of a flight runs out. */
export interface EmptyPlace {
  readonly step: StageEnergy;
  readonly at?: LonLat;
  /** Metres from the start of its leg. */
  readonly along?: Metres;
}

/** On a leg the place at which nothing is left, since energy falls evenly there. Undefined where it suffices. */
export const emptyPlace = defineFact({
  name: 'empty-place',
  derive: (flight: Flight, tools: FactTools): EmptyPlace | undefined => {
    const step = tools.ask(flightEnergy, flight).stages.find(({ after }) => after < 0);
    if (step === undefined) return undefined;
    const { leg, item } = step.stage;
    const place = orLacking(() => {
      if (leg === undefined) return { at: tools.ask(itemPlace, item) };
      const path = tools.ask(pathOfLeg, leg);
      const along = metres((path.length * step.before) / (step.before - step.after));
      return { at: path.at(along), along };
    });
    return isMissing(place) ? { step } : { step, ...place.known };
  },
});
