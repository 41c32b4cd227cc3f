import { COMPASS_FAILS_BELOW, MAGNETIC_MODEL, type MagneticVariation, magneticVariation } from '../geo/magnetic.ts';
import type { Leg } from '../plan/model.ts';
import { sayDate, startOfDay } from '../units/calendar.ts';
import { aboveEllipsoid, type Degrees, degrees, instant, type LonLat } from '../units/frames.ts';
import { sayNumber, sayPosition } from '../units/say.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { flightDay } from './flight-day.ts';
import { orLacking } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';

/** The direction in which a leg sets out. */
export interface LegCourse {
  /** Clockwise from true north, at the start of the geodesic, from 0 to below 360. */
  readonly fromTrueNorth: Degrees;
  /** The same by the compass, or why that cannot be said. The course from true north stands without it. */
  readonly byCompass: { readonly known: CompassCourse } | Missing;
}

export interface CompassCourse {
  /** Clockwise from magnetic north, from 0 to below 360. */
  readonly fromMagneticNorth: Degrees;
  readonly variation: MagneticVariation;
}

const HALF_DAY = 43_200_000;

/**
 * Variation at a place on the day of the flight, at noon UTC. The height is left at the ellipsoid's: where a compass
 * works well, 3 km more or less turn it by less than a tenth of a degree.
 */
const variationOfDay = (at: LonLat, tools: FactTools): MagneticVariation => {
  const day = tools.ask(flightDay, tools.plan);
  const noon = instant(startOfDay(day, 0) + HALF_DAY);
  const variation = magneticVariation(at, aboveEllipsoid(0), noon);
  if (variation === undefined) {
    throw new NotAssessed(
      `the flight is on ${sayDate(day)}, and the magnetic model carried here, ${MAGNETIC_MODEL.name}, is published for ${MAGNETIC_MODEL.from} to ${MAGNETIC_MODEL.until}`,
    );
  }
  if (variation.horizontalNanotesla < COMPASS_FAILS_BELOW) {
    throw new NotAssessed(
      `the horizontal magnetic field at ${sayPosition(at)} is ${sayNumber(variation.horizontalNanotesla, 0)} nT, and below ${COMPASS_FAILS_BELOW} nT a compass cannot be relied upon (${MAGNETIC_MODEL.name})`,
    );
  }
  return variation;
};

/** Course of a leg at its start, from true and from magnetic north. A leg without length has none. */
export const legCourse = defineFact({
  name: 'leg-course',
  derive: (leg: Leg, tools: FactTools): LegCourse => {
    const { from, length, course } = tools.ask(pathOfLeg, leg);
    if (length === 0) throw new NotAssessed('a leg without length has no course');
    const byCompass = orLacking((): CompassCourse => {
      const variation = variationOfDay(from, tools);
      return { fromMagneticNorth: degrees(wrap(course - variation.value)), variation };
    });
    return { fromTrueNorth: degrees(wrap(course)), byCompass };
  },
});

/** A direction from 0 to below 360 degrees. */
const wrap = (direction: number): number => {
  const turned = ((direction % 360) + 360) % 360;
  // A direction a hair west of north comes out as 360 itself by rounding.
  return turned === 360 ? 0 : turned;
};
