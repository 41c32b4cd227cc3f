import { boxAround, boxesMeet, growBox } from '../geo/box.ts';
import { type Ring, TOUCH } from '../geo/ring.ts';
import { stripAlong } from '../geo/strip.ts';
import type { Flight } from '../plan/model.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { metres } from '../units/frames.ts';
import type { Runway } from '../world/runway.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import type { Partly } from './lacking.ts';
import { flightCourses, type PeopleWay } from './people-passes.ts';

/** One statute mile beyond each end, and half a statute mile wide: 18 U.S.C. 39B(b). */
export const BEYOND_END = metres(LENGTH_UNITS.mi);
export const BESIDE_CENTRELINE = metres(LENGTH_UNITS.mi / 4);

/** The rectangle around a runway that no drone may enter without authorisation: 18 U.S.C. 39B(b). */
export const exclusionZone = ({ ends: [one, other] }: Runway): Ring | undefined =>
  stripAlong(one, other, BESIDE_CENTRELINE, BEYOND_END);

/** More than a geodesic bulges beyond the box of its ends and middle, in metres. */
const BULGE = 1000;

/** A leg, area or place inside the zone around a runway. */
export interface RunwayEntry {
  readonly runway: Runway;
  readonly way: Omit<PeopleWay, 'distance'>;
}

export interface RunwayEntries extends Partly {
  readonly entries: readonly RunwayEntry[];
}

/** Where a flight enters the zones around runways of airports whose surface area is of class B, C or D. */
export const runwayEntries = defineFact({
  name: 'runway-entries',
  derive: (flight: Flight, tools: FactTools): RunwayEntries => {
    const { runways } = tools.world;
    if (isMissing(runways)) return { entries: [], lacking: tools.plan.runways.length === 0 ? [] : [runways] };
    const { courses, lacking } = tools.ask(flightCourses, flight);
    const entries: RunwayEntry[] = [];
    for (const runway of runways.runways) {
      if (runway.surfaceClass !== 'B' && runway.surfaceClass !== 'C' && runway.surfaceClass !== 'D') continue;
      const ring = exclusionZone(runway);
      const around = ring === undefined ? undefined : boxAround(ring);
      if (ring === undefined || around === undefined) continue;
      const box = growBox(around, 1);
      for (const { nearest, corners, ...course } of courses) {
        const own = boxAround(corners);
        if (own === undefined || !boxesMeet(growBox(own, BULGE), box)) continue;
        const { distance, ...place } = nearest({ kind: 'polygons', polygons: [[ring]] });
        if (!(distance > TOUCH)) entries.push({ runway, way: { ...course, ...place } });
      }
    }
    return { entries, lacking: [...(runways.incomplete === undefined ? [] : [runways.incomplete]), ...lacking] };
  },
});
