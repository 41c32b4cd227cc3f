import type { Flight, WrittenHeight } from '../plan/model.ts';
import { isNoCloud } from '../plan/weather.ts';
import { aboveSea, type MetresAboveSea, onGround, onTakeOff } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import { itemPlace } from './item-place.ts';
import type { Partly } from './lacking.ts';
import { fromEllipsoid } from './sea-level.ts';
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
export const cloudByHand = (base: WrittenHeight, flight: Flight, tools: FactTools): MetresAboveSea => {
  const height = base.value;
  if ('aboveSea' in height) return height.aboveSea;
  if ('aboveEllipsoid' in height) {
    return fromEllipsoid(height.aboveEllipsoid, tools.ask(itemPlace, flight.first), 'the cloud base', tools);
  }
  const site = tools.ask(takeOffElevation, flight.first).value;
  return 'aboveGround' in height ? onGround(site, height.aboveGround) : onTakeOff(site, height.aboveTakeOff);
};

/** The clouds of the reports alone, by the elevations of their stations. */
export const reportedCloudBases = (tools: FactTools): CloudBases => {
  const { values, lacking } = reportedInWindow('cloud', tools.plan, tools);
  const missing: Missing[] = [...lacking];
  const bases = values.flatMap(({ value, ...stated }): readonly Stated<CloudBase>[] => {
    const { station } = stated;
    if (station?.elevation !== undefined) {
      const base = aboveSea(station.elevation.value + value.height);
      return [{ ...stated, value: { kind: value.kind, base } }];
    }
    missing.push({ missing: `the elevation of station ${station?.code?.value ?? ''} is missing or could not be read` });
    return [];
  });
  return { bases, lacking: missing };
};

/**
 * How high above the sea the clouds begin in the window of a flight: clouds are level, so a height above a station's
 * elevation holds for the whole flight. What the plan has by hand stands before reports; none where it says that there is
 * no cloud.
 */
export const cloudBases = defineFact({
  name: 'cloud-bases',
  derive: (flight: Flight, tools: FactTools): CloudBases => {
    const { cloudBase } = tools.plan.weather;
    if (cloudBase === undefined) return reportedCloudBases(tools);
    if (isNoCloud(cloudBase)) return { bases: [], lacking: [] };
    const written = `${cloudBase.number} ${cloudBase.unit} ${cloudBase.datum}`;
    const value = { kind: 'cloud', base: cloudByHand(cloudBase, flight, tools) } as const;
    return { bases: [{ value, written, by: 'this plan', at: cloudBase.span }], lacking: [] };
  },
});
