import { requireWhole } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { furthestOf, stretchesOfLeg } from '../facts/leg-beyond.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import { heightLimit } from '../rulebook/height-limit.ts';
import { CLEARANCE, mendLeg } from '../rulebook/mend-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayDistance, sayMetresAgainst } from '../units/say.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg rises above the height limit although its ends do not',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'The aircraft flies a straight line between two points, and the ground does not. Where a valley falls away under the line the height above ground grows, and every number in the plan still looks right. This is the commonest way to fly too high without knowing it.',
  condition:
    'Along the whole leg the aircraft is not higher above the ground under it than the limit: 400 ft (121.92 m) in the United States, 120 m (393.7 ft) in the EU open category, or what the house has set below that. Worked out in closed form on the terrain of the plan, not at sample points.',
  exceptions:
    'An altitude above ground fixes the aircraft at that height at its point only. A leg that follows the terrain (`leg: { follows: 60 m AGL within 5 m }`) keeps its height all along, if the aircraft can do so.',
  mend: 'Put a point where the ground falls away, lower one end, or let the leg follow the terrain.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(6)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.51(b)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.010(2)', edition: '2026-10-10', for: ['eu-open'] },
  ],
  needs: ['terrain'],
  waivable: ['14 CFR 107.51'],
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
      const most = craft.height + craft.within;
      if (exceeds(greatest.value, limit.value)) {
        yield {
          found: {
            at: craft.written.span,
            subject: name,
            message: `${name} follows the ground at up to ${sayMetresAgainst(most, limit.value)} above it; ${limit.said}`,
            measured: { value: most, unit: 'm', frame: 'above ground' },
            limit: limit.measure,
            fixes: [],
          },
        };
      }
      return;
    }
    const stretches = stretchesOfLeg(leg, limit.value, 'over', tools);
    const worst = furthestOf(stretches, 'over');
    if (worst === undefined) {
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
    const written = leg.to.altitude ?? leg.from.altitude;
    const cause = written === undefined ? undefined : elevationToBlame(leg.to, written, tools);
    const within =
      worst.furthest - limit.value <= height.error ? ', which is within the stated error of the terrain' : '';
    yield {
      found: {
        at: leg.to.id.span,
        subject: name,
        message: `${name} reaches ${sayMetresAgainst(worst.furthest, limit.value)} above ground ${sayDistance(greatest.along)} along${within}; ${limit.said}`,
        measured: { value: worst.furthest, unit: 'm', frame: 'above ground' },
        limit: limit.measure,
        place: {
          at: path.at(greatest.along),
          alongM: greatest.along,
          ...(greatest.aboveSea === undefined ? {} : { altitudeAmslM: greatest.aboveSea }),
        },
        intervals: stretches.map((stretch) => ({ fromAlongM: stretch.from, toAlongM: stretch.to })),
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
