import { placeFarFromGround } from '../facts/far-from-ground.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { groundAtPlace } from '../facts/ground-at-place.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legHeight } from '../facts/leg-height.ts';
import type { Leg } from '../plan/model.ts';
import { heightLimit } from '../rulebook/height-limit.ts';
import type { RuleTools } from '../rulebook/rule.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { type Metres, type MetresAboveGround, metres, onGround } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';
import { isMissing, type Missing } from '../world/world.ts';

/** Cells wider than this flatten a cliff into a slope. */
const COARSE = 10;

interface Place {
  readonly leg: Leg;
  readonly below: MetresAboveGround;
  readonly cell: Metres;
}

/** The highest place of a leg, where it is within the limit by the nearest ground alone and that is known coarsely. */
const placeOf = (leg: Leg, limit: MetresAboveGround, tools: RuleTools): Place | undefined => {
  if (tools.ask(legAltitudes, leg).kind === 'follows') return undefined;
  const { greatest } = tools.ask(legHeight, leg);
  const { terrain } = tools.world;
  if (!exceeds(greatest.value, limit) || isMissing(terrain)) return undefined;
  const cell = terrain.cellAt(greatest.at);
  if (cell === undefined || cell <= COARSE) return undefined;
  const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const altitude = onGround(groundAtPlace(greatest.at, name, tools), greatest.value);
  const far = placeFarFromGround(greatest.at, altitude, name, metres(limit), tools);
  return far === undefined ? { leg, below: greatest.value, cell } : undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'the flight is within the height limit by a slope that coarse terrain shows',
  question: 'How high?',
  level: { 'eu-open': 'note' },
  basis: 'practice',
  why: 'The 120 m of the open category count from the nearest ground in any direction, so that a slope beside the aircraft lets it be higher above the valley. Terrain in wide cells smooths a cliff into a slope, moves its foot and its edge, and may show ground nearer than it is.',
  condition:
    'Where a leg is more than 120 m (393.7 ft) above the ground straight below and within 120 m of the nearest ground, the terrain there has cells of at most 10 m. One note for the whole flight, at the place that is highest above the ground below. A limit of the house counts from the ground below and is not concerned.',
  mend: 'Use terrain with cells of 10 m or less there, or stay within 120 m of the ground straight below.',
  sources: [
    { cite: '(EU) 2019/947 UAS.OPEN.010(2)', edition: '2026-10-10' },
    { cite: 'the 10 m', edition: '2026', trust: 'common practice, no source' },
  ],
  needs: ['terrain'],
  example: {
    faulty:
      'country: FR\ncategory: A3\nwindow: { from: 2026-06-14 08:40 +02:00, until: 2026-06-14 09:10 +02:00 }\nsite: { take-off: { lat: 47.5, lon: 2.48, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }\nroute:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: flank\n    at: 47.5, 2.496\n    altitude: 132 m AGL\n  - land: home\n',
    sound:
      'country: FR\ncategory: A3\nwindow: { from: 2026-06-14 08:40 +02:00, until: 2026-06-14 09:10 +02:00 }\nsite: { take-off: { lat: 47.5, lon: 2.48, elevation: 400 m }, permission: { of: shore owner, given: 2026-06-02 } }\nroute:\n  - take-off: home\n    climb-to: 60 m AGL\n  - point: flank\n    at: 47.5, 2.496\n    altitude: 110 m AGL\n  - land: home\n',
    world: 'middle: [2.495, 47.5]\nground: { valley: { floor: 400 m, rim: 1400 m, middle: 2.48, half-width: 0.02 } }\n',
    soundWorld:
      'middle: [2.495, 47.5]\nground: { valley: { floor: 400 m, rim: 1400 m, middle: 2.48, half-width: 0.02 } }\n',
  },

  *check(flight, tools) {
    const limit = heightLimit(tools);
    if (limit.from === 'ground below') return;
    const lacking: Missing[] = [];
    const places = tools.ask(flownLegs, flight).flatMap((leg): readonly Place[] => {
      const place = orLacking(() => placeOf(leg, limit.value, tools));
      if ('missing' in place) lacking.push(place);
      return 'missing' in place || place.known === undefined ? [] : [place.known];
    });
    const [first] = places;
    if (first === undefined) {
      requireWhole({ lacking });
      return;
    }
    const { leg, below, cell } = places.reduce((one, other) => (outdoes(other.below, one.below) ? other : one), first);
    const more = places.length > 1 ? ` (and ${sayCount(places.length - 1, 'more leg')})` : '';
    yield {
      found: {
        at: leg.to.id.span,
        subject: `flight ${flight.number}`,
        message: `leg ${leg.from.id.value} to ${leg.to.id.value} is ${sayMetresAgainst(below, limit.value)} above the ground straight below${more} and within the limit only by a slope beside it, which the terrain shows in cells of ${sayNumber(cell)} m, too wide to show a cliff as it is; ${limit.said}`,
        measured: { value: below, unit: 'm', frame: 'above ground' },
        limit: limit.measure,
      },
    };
    requireWhole({ lacking });
  },
});
