import { areaHeight } from '../facts/area-height.ts';
import { placeFarFromGround } from '../facts/far-from-ground.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { groundAtPlace } from '../facts/ground-at-place.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import type { Item, Leg } from '../plan/model.ts';
import { areaBeyondLimit } from '../rulebook/area-limit.ts';
import { heightLimit } from '../rulebook/height-limit.ts';
import type { RuleTools } from '../rulebook/rule.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { type LonLat, type Metres, type MetresAboveGround, metres, onGround } from '../units/frames.ts';
import { sayCount, sayMetresAgainst, sayNumber } from '../units/say.ts';
import { isMissing, type Missing } from '../world/world.ts';

/** Cells wider than this flatten a cliff into a slope. */
const COARSE = 10;

interface Place {
  readonly name: string;
  readonly at: Span;
  readonly below: MetresAboveGround;
  readonly cell: Metres;
}

/** The size of the cells at a place, where they are too wide to show a cliff. */
const coarseAt = (at: LonLat, { world }: RuleTools): Metres | undefined => {
  const cell = isMissing(world.terrain) ? undefined : world.terrain.cellAt(at);
  return cell === undefined || cell <= COARSE ? undefined : cell;
};

/** Places at which a leg is as high above the ground as it gets: one of a straight one, three of one that follows the ground. */
const highestOf = (leg: Leg, { ask }: RuleTools): readonly LonLat[] => {
  if (ask(legAltitudes, leg).kind === 'straight') return [ask(legHeight, leg).greatest.at];
  const path = ask(pathOfLeg, leg);
  return [path.from, path.at(path.length / 2), path.to];
};

/** The highest place of a leg, where it is within the limit by the nearest ground alone and that is known coarsely. */
const placeOf = (leg: Leg, limit: MetresAboveGround, tools: RuleTools): Place | undefined => {
  const { value: below } = tools.ask(legHeight, leg).greatest;
  if (!exceeds(below, limit) || isMissing(tools.world.terrain)) return undefined;
  const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const places = highestOf(leg, tools);
  const cell = places.map((at) => coarseAt(at, tools)).find((each) => each !== undefined);
  if (cell === undefined) return undefined;
  const isFar = places.some((at) => {
    const altitude = onGround(groundAtPlace(at, name, tools), below);
    return placeFarFromGround(at, altitude, name, metres(limit), tools) !== undefined;
  });
  return isFar ? undefined : { name, at: leg.to.id.span, below, cell };
};

/** As `placeOf`, of an area that is proven to be within the limit. */
const placeOfArea = (item: Item, limit: MetresAboveGround, tools: RuleTools): Place | undefined => {
  const { greatest } = tools.ask(areaHeight, item);
  if (!exceeds(greatest.value, limit)) return undefined;
  const cell = coarseAt(greatest.at, tools);
  if (cell === undefined || tools.ask(areaBeyondLimit, item).now().kind !== 'within') return undefined;
  return { name: `area ${item.id.value}`, at: item.id.span, below: greatest.value, cell };
};

export default defineRule({
  visits: 'flight',
  title: 'the flight is within the height limit by a slope that coarse terrain shows',
  question: 'How high?',
  level: { 'eu-open': 'note' },
  basis: 'practice',
  why: 'The 120 m of the open category count from the nearest ground in any direction, so that a slope beside the aircraft lets it be higher above the valley. Terrain in wide cells smooths a cliff into a slope, moves its foot and its edge, and may show ground nearer than it is.',
  condition:
    'Where a leg or an area is more than 120 m (393.7 ft) above the ground straight below and within 120 m of the nearest ground, the terrain there has cells of at most 10 m. One note for the whole flight, at the place that is highest above the ground below. A limit of the house counts from the ground below and is not concerned.',
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
    const places: Place[] = [];
    const take = (find: () => Place | undefined): void => {
      const place = orLacking(find);
      if ('missing' in place) lacking.push(place);
      else if (place.known !== undefined) places.push(place.known);
    };
    for (const leg of tools.ask(flownLegs, flight)) take(() => placeOf(leg, limit.value, tools));
    for (const item of flight.items) {
      if (item.kind !== 'area') continue;
      const beyond = orLacking(() => tools.ask(areaBeyondLimit, item));
      // What is lacking for an area is told by the rule about its height.
      if ('missing' in beyond) continue;
      while (!beyond.known.isDone) {
        beyond.known.advance();
        yield { pause: true };
      }
      take(() => placeOfArea(item, limit.value, tools));
    }
    const [first] = places;
    if (first === undefined) {
      requireWhole({ lacking });
      return;
    }
    const { name, at, below, cell } = places.reduce(
      (one, other) => (outdoes(other.below, one.below) ? other : one),
      first,
    );
    const more = places.length > 1 ? ` (and ${sayCount(places.length - 1, 'more place')})` : '';
    yield {
      found: {
        at,
        subject: `flight ${flight.number}`,
        message: `${name} is ${sayMetresAgainst(below, limit.value)} above the ground straight below${more} and within the limit only by a slope beside it, which the terrain shows in cells of ${sayNumber(cell)} m, too wide to show a cliff as it is; ${limit.said}`,
        measured: { value: below, unit: 'm', frame: 'above ground' },
        limit: limit.measure,
      },
    };
    requireWhole({ lacking });
  },
});
