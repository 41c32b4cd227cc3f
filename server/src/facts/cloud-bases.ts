import type { Flight } from '../plan/model.ts';
import { isNoCloud } from '../plan/weather.ts';
import { aboveSea, type MetresAboveSea, onGround, onTakeOff } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import type { Partly } from './lacking.ts';
import type { Stated } from './stated-weather.ts';
import { takeOffElevation } from './take-off-elevation.ts';
import { reportedInWindow } from './weather-in-window.ts';

/** The lowest cloud, or the height below which there is none. */
export interface CloudBase {
  readonly kind: 'cloud' | 'none below';
  readonly base: MetresAboveSea;
}

export interface CloudBases extends Partly {
  readonly bases: readonly Stated<CloudBase>[];
}

/** Written by hand: above ground and above take-off both count from the take-off place, where the crew looks up. */
const byHand = (flight: Flight, tools: FactTools): Stated<CloudBase> | undefined => {
  const { cloudBase } = tools.plan.weather;
  if (cloudBase === undefined || isNoCloud(cloudBase)) return undefined;
  const height = cloudBase.value;
  const written = `${cloudBase.number} ${cloudBase.unit} ${cloudBase.datum}`;
  const stated = (base: MetresAboveSea): Stated<CloudBase> => ({
    value: { kind: 'cloud', base },
    written,
    by: 'this plan',
    at: cloudBase.span,
  });
  if ('aboveSea' in height) return stated(height.aboveSea);
  if ('aboveEllipsoid' in height) {
    throw new NotAssessed(
      'the cloud base is above the ellipsoid, and bringing it to mean sea level needs a geoid grid',
    );
  }
  const site = tools.ask(takeOffElevation, flight.first).value;
  return stated('aboveGround' in height ? onGround(site, height.aboveGround) : onTakeOff(site, height.aboveTakeOff));
};

/**
 * How high above the sea the clouds begin in the window of a flight: clouds are level, so a height above a station's
 * elevation holds for the whole flight. None where the plan says that there is no cloud.
 */
export const cloudBases = defineFact({
  name: 'cloud-bases',
  derive: (flight: Flight, tools: FactTools): CloudBases => {
    if (tools.plan.weather.cloudBase !== undefined) {
      const base = byHand(flight, tools);
      return { bases: base === undefined ? [] : [base], lacking: [] };
    }
    const { values, lacking } = reportedInWindow('cloud', tools.plan, tools);
    const missing: Missing[] = [...lacking];
    const bases = values.flatMap(({ value, ...stated }): readonly Stated<CloudBase>[] => {
      const elevation = stated.station?.elevation;
      if (elevation !== undefined) {
        return [{ ...stated, value: { kind: value.kind, base: aboveSea(elevation.value + value.height) } }];
      }
      missing.push({
        missing: `the elevation of station ${stated.station?.code?.value ?? ''} is missing or could not be read`,
      });
      return [];
    });
    return { bases, lacking: missing };
  },
});
