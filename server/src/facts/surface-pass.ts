import { groundOf } from '../geo/ground-profile.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import { type Interval, mergeIntervals, totalLength } from '../geo/interval.ts';
import { differenceOf } from '../geo/profile-difference.ts';
import { intervalsUnder } from '../geo/quadratic.ts';
import type { Leg } from '../plan/model.ts';
import { aboveGround, aboveSea, type LonLat, type Metres, type MetresAboveSea, metres } from '../units/frames.ts';
import { sayDistance } from '../units/say.ts';
import { isMissing } from '../world/world.ts';
import { defineFact, type FactTools, present } from './fact.ts';
import type { Partly } from './lacking.ts';
import { altitudeAlong, legAltitudes } from './leg-altitudes.ts';
import { legGround } from './leg-ground.ts';
import { pathOfLeg } from './leg-path.ts';

/** Where a leg is deepest below the tops that a surface model shows. */
export interface BelowSurface {
  /** Altitude of the craft minus that of the surface; negative or zero. */
  readonly height: Metres;
  readonly craft: MetresAboveSea;
  readonly surface: MetresAboveSea;
  readonly at: LonLat;
  readonly along: number;
}

export interface SurfacePass extends Partly {
  /** Undefined where the leg is above all that is shown. */
  readonly below: BelowSurface | undefined;
}

/** A craft at the height of a surface is in it; a millimetre is what limits are compared to. */
const TOUCHES = aboveGround(0.001);

const gapsOf = (profile: GroundProfile): readonly Interval[] => {
  const gaps: Interval[] = [];
  profile.a.forEach((a, i) => {
    if (Number.isNaN(a)) gaps.push({ from: profile.along[i] ?? 0, to: profile.along[i + 1] ?? 0 });
  });
  return mergeIntervals(gaps);
};

/** The ground, or nothing where there is no terrain: the surface is then judged by itself. */
const groundUnder = (leg: Leg, tools: FactTools): GroundProfile | undefined =>
  isMissing(tools.world.terrain) ? undefined : tools.ask(legGround, leg);

/** The stretch that is deepest below the surface and not in the ground as well, which the rules about ground tell. */
const deepest = (leg: Leg, surface: GroundProfile, tools: FactTools): BelowSurface | undefined => {
  const path = tools.ask(pathOfLeg, leg);
  const craft = tools.ask(legAltitudes, leg);
  let best: BelowSurface | undefined;
  const take = (altitude: MetresAboveSea, top: number, along: number): void => {
    const height = metres(altitude - top);
    if (best !== undefined && height >= best.height) return;
    best = { height, craft: altitude, surface: aboveSea(top), at: path.at(along), along };
  };
  if (craft.kind === 'follows') {
    const ground = tools.ask(legGround, leg);
    const height = aboveSea(craft.height - craft.within);
    for (const { furthestAlong } of intervalsUnder(
      differenceOf(surface, ground),
      height,
      height,
      path.length,
      TOUCHES,
    )) {
      take(aboveSea(groundOf(ground, furthestAlong) + height), groundOf(surface, furthestAlong), furthestAlong);
    }
    return best;
  }
  const ground = groundUnder(leg, tools);
  const [start, end] = [craft.start.aboveSea, craft.end.aboveSea];
  for (const { furthest, furthestAlong } of intervalsUnder(surface, start, end, path.length, TOUCHES)) {
    const top = groundOf(surface, furthestAlong);
    // A climb on the spot is judged at its lower end.
    const altitude = path.length > 0 ? altitudeAlong(start, end, path.length, furthestAlong) : aboveSea(top + furthest);
    const isInGround = ground !== undefined && altitude <= groundOf(ground, furthestAlong) + TOUCHES;
    if (!isInGround) take(altitude, top, furthestAlong);
  }
  return best;
};

/**
 * How a leg passes the tops of trees and buildings that the plan's surface models show, along the whole of it. Undefined
 * where the plan names no surface model. What is thinner than a cell, as wires and masts, is in no surface model.
 */
export const surfacePass = defineFact({
  name: 'surface-pass',
  derive: (leg: Leg, tools: FactTools): SurfacePass | undefined => {
    if (tools.world.surface === undefined) return undefined;
    const path = tools.ask(pathOfLeg, leg);
    const surface = present(tools.world.surface).groundAlong(path);
    const gaps = gapsOf(surface);
    const [gap] = gaps;
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const lacking =
      gap === undefined
        ? []
        : [
            {
              missing: `the surface model has no data over ${sayDistance(totalLength(gaps))} of ${name}, from ${sayDistance(gap.from)} on`,
            },
          ];
    return { below: deepest(leg, surface, tools), lacking };
  },
});
