import type { FactTools } from '../facts/fact.ts';
import { legFarFromGround } from '../facts/far-from-ground.ts';
import { groundAtPlace } from '../facts/ground-at-place.ts';
import { requireWhole } from '../facts/lacking.ts';
import { altitudeAlong, legAltitudes } from '../facts/leg-altitudes.ts';
import { furthestOf, stretchesOfLeg } from '../facts/leg-beyond.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import type { Interval } from '../geo/interval.ts';
import type { StretchBeyond } from '../geo/quadratic.ts';
import type { Leg } from '../plan/model.ts';
import { areaBeyondLimit } from '../rulebook/area-limit.ts';
import { elevationToBlameOnLeg } from '../rulebook/elevation-to-blame.ts';
import { followsTooHigh } from '../rulebook/follows-too-high.ts';
import { CLEARANCE } from '../rulebook/height-band.ts';
import { isTooHigh } from '../rulebook/height-blame.ts';
import { HEIGHT_SOURCES, type HeightLimit, heightLimit, sayFromNearest } from '../rulebook/height-limit.ts';
import { inSteps } from '../rulebook/in-steps.ts';
import { mendLeg } from '../rulebook/mend-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { legAllowance, requireStructures, sayStructuresAlong } from '../rulebook/structure-exception.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres, overGround } from '../units/frames.ts';
import { sayDistance, sayMetresAgainst } from '../units/say.ts';

/** Where the height is over the limit by the fault of the leg. */
const stretchesOver = (
  leg: Leg,
  limit: HeightLimit,
  allowed: readonly Interval[],
  tools: FactTools,
): readonly StretchBeyond[] =>
  stretchesOfLeg(leg, limit.value, 'over', tools, (item) => isTooHigh(item, limit, tools), allowed);

export default defineRule({
  visits: 'leg',
  title: 'a leg rises above the height limit although its ends do not',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'The aircraft flies a straight line between two points, and the ground does not. Where a valley falls away under the line the height above ground grows, and every number in the plan still looks right. This is the commonest way to fly too high without knowing it.',
  condition:
    'Along the whole leg the aircraft is not higher above the ground under it than 400 ft (121.92 m) in the United States, and not farther than 120 m (393.7 ft) from the nearest ground in any direction in the EU open category; or than what the house has set below that. Worked out over the whole of the terrain of the plan, not at sample points.',
  exceptions:
    'An altitude above ground fixes the aircraft at that height at its point only. A leg that follows the terrain (`leg: { follows: 60 m AGL within 5 m }`) keeps its height all along, if the aircraft can do so; in the EU it is judged by the nearest ground, too, and where that cannot be proven to be nearer, by the ground below, which is never less strict. Near a structure the law allows more: see `point-above-height-limit`; the leg is cut where it comes within reach of one, and each part is judged by itself.',
  mend: 'Put a point where the ground falls away, lower one end, or let the leg follow the terrain.',
  sources: HEIGHT_SOURCES,
  needs: ['terrain'],
  waivable: ['14 CFR 107.51(b)'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: rim\n    at: 47.5, -120.498\n    altitude: 100 m AGL\n  - point: far-rim\n    at: 47.5, -120.488\n    altitude: 100 m AGL\n  - point: near\n    at: 47.5, -120.498\n    altitude: 100 m AGL\n    leg: { follows: 100 m AGL within 5 m }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: rim\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - point: far-rim\n    at: 47.5, -120.488\n    altitude: 60 m AGL\n    leg: { follows: 60 m AGL within 5 m }\n  - point: near\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { follows: 60 m AGL within 5 m }\n  - land: home\n',
    world: 'ground: { valley: { floor: 340 m, rim: 400 m, middle: -120.493, half-width: 0.004 } }\n',
    soundWorld: 'ground: { valley: { floor: 340 m, rim: 400 m, middle: -120.493, half-width: 0.004 } }\n',
  },

  *check(leg, tools) {
    const { ask } = tools;
    const limit = heightLimit(tools);
    const height = ask(legHeight, leg);
    const craft = ask(legAltitudes, leg);
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const { greatest } = height;
    if (craft.kind === 'follows') {
      yield* followsTooHigh(leg, limit, tools);
      return;
    }
    // Of a large area it takes a while to prove whether a stretch beside it is its own fault.
    for (const end of [leg.from, leg.to]) {
      if (end.kind === 'area' && exceeds(greatest.value, limit.value))
        yield* inSteps(ask(areaBeyondLimit, end).finish());
    }
    const allowance = legAllowance(leg, limit, tools);
    const stretches = stretchesOver(leg, limit, allowance.allowed, tools);
    if (stretches.length > 0)
      requireStructures(allowance, (allowed) => stretchesOver(leg, limit, allowed, tools).length > 0);
    const nearest =
      limit.from === 'nearest ground'
        ? yield* inSteps(legFarFromGround(leg, stretches, metres(limit.value), tools))
        : undefined;
    const worst = furthestOf(stretches, 'over');
    if (worst === undefined || (limit.from === 'nearest ground' && nearest === undefined)) {
      // An end that is too high by itself has its own finding and its own margin.
      if (!exceeds(greatest.value, limit.value)) {
        yield {
          margin: {
            subject: name,
            at: leg.to.id.span,
            measured: { value: greatest.value, unit: 'm', frame: 'above ground' },
            limit: limit.measure,
            room: limit.value - greatest.value,
            error: height.error,
            place: { at: greatest.at, alongM: greatest.along },
          },
        };
      }
      requireWhole(height);
      return;
    }
    const path = ask(pathOfLeg, leg);
    const cause = elevationToBlameOnLeg(leg, tools);
    const along = nearest?.along ?? worst.furthestAlong;
    const altitudeAmslM = altitudeAlong(craft.start.aboveSea, craft.end.aboveSea, path.length, along);
    const over = (nearest?.distance ?? worst.furthest) - limit.value;
    const within = over <= height.error ? ', which is within the stated error of the terrain' : '';
    const how =
      nearest === undefined
        ? `reaches ${sayMetresAgainst(worst.furthest, limit.value)} above ground`
        : `gets ${sayFromNearest(nearest.distance, overGround(altitudeAmslM, groundAtPlace(nearest.at, name, tools)), limit)}`;
    yield {
      found: {
        at: leg.to.id.span,
        subject: name,
        message: `${name} ${how} ${sayDistance(along)} along${within}; ${limit.said}${sayStructuresAlong(leg, along, limit, tools)}`,
        ...(nearest === undefined
          ? {
              measured: { value: worst.furthest, unit: 'm', frame: 'above ground' },
              limit: limit.measure,
              intervals: stretches.map((stretch) => ({ fromAlongM: stretch.from, toAlongM: stretch.to })),
            }
          : {
              measured: { value: nearest.distance, unit: 'm', frame: 'above surface' },
              limit: { ...limit.measure, frame: 'above surface' },
            }),
        place: { at: path.at(along), alongM: along, altitudeAmslM },
        related: [
          { at: leg.from.id.span, message: 'the leg starts here' },
          ...(limit.span === undefined ? [] : [{ at: limit.span, message: 'the house set the limit here' }]),
        ],
        ...(cause === undefined ? {} : { cause }),
        fixes:
          cause === undefined
            ? mendLeg(leg, -1, worst.furthest - limit.value, { least: CLEARANCE, most: limit.value }, tools)
            : [],
      },
    };
    requireWhole(height);
  },
});
