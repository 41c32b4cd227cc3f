import { photosOn } from '../geo/photo.ts';
import type { Leg } from '../plan/model.ts';
import { type Seconds, seconds } from '../units/frames.ts';
import { aircraftOfPlan } from './aircraft-of-plan.ts';
import { defineFact, type FactTools, given, NotAssessed } from './fact.ts';
import { pathOfLeg } from './leg-path.ts';
import { asksForPhotos, photoPlan } from './photo-plan.ts';

/**
 * Time for which the craft stands still on a leg because it stops for photos; nought on every other leg. `NotAssessed` where
 * it stops and nothing says how often.
 */
export const photoStops = defineFact({
  name: 'photo-stops',
  derive: (leg: Leg, tools: FactTools): Seconds => {
    const { partOf } = leg.to;
    const item = partOf?.endsLine === true ? partOf.pattern : undefined;
    const { pattern } = item ?? {};
    if (item === undefined || pattern === undefined || pattern.kind === 'circle') return seconds(0);
    if (!asksForPhotos(pattern)) return seconds(0);
    const { stops } = pattern.camera ?? aircraftOfPlan(tools).camera ?? {};
    if (stops === undefined || stops.value === 0) return seconds(0);
    const base = given(
      tools.ask(photoPlan, item).base,
      `the front overlap of ${item.id.value}, which says how often it stops,`,
    );
    if (!(base > 0)) throw new NotAssessed(`photos of ${item.id.value} lie 0 m from each other, so it would never end`);
    return seconds(photosOn(tools.ask(pathOfLeg, leg).length, base) * stops.value);
  },
});
