import { requireWhole } from '../facts/lacking.ts';
import { altitudeAlong, legAltitudes } from '../facts/leg-altitudes.ts';
import { furthestOf, stretchesOfLeg } from '../facts/leg-beyond.ts';
import { legHeight } from '../facts/leg-height.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { elevationToBlameOnLeg } from '../rulebook/elevation-to-blame.ts';
import { CLEARANCE } from '../rulebook/height-band.ts';
import { mendLeg } from '../rulebook/mend-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';

const GROUND = aboveGround(0);

export default defineRule({
  visits: 'leg',
  title: 'a leg runs into the ground between its ends',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'Both ends are above the ground, and a hill stands between them. The aircraft flies straight, follows its orders, and is lost.',
  condition:
    'Along the whole leg the height above the ground is more than 0 m, worked out in closed form on the terrain of the plan. What stands on the ground, such as trees and houses, is not in a terrain file: that is what obstacles are for.',
  mend: 'Put a point over the hill, raise one end, or let the leg follow the terrain.',
  sources: [{ cite: 'the ground', edition: 'as the terrain file states', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: near-side\n    at: 47.5, -120.498\n    altitude: 30 m AGL\n  - point: far-side\n    at: 47.5, -120.488\n    altitude: 30 m AGL\n  - point: near\n    at: 47.5, -120.498\n    altitude: 30 m AGL\n    leg: { follows: 30 m AGL within 5 m }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: near-side\n    at: 47.5, -120.498\n    altitude: 30 m AGL\n  - point: far-side\n    at: 47.5, -120.488\n    altitude: 30 m AGL\n    leg: { follows: 30 m AGL within 5 m }\n  - point: near\n    at: 47.5, -120.498\n    altitude: 30 m AGL\n    leg: { follows: 30 m AGL within 5 m }\n  - land: home\n',
    world: 'ground: { valley: { floor: 450 m, rim: 400 m, middle: -120.493, half-width: 0.004 } }\n',
    soundWorld: 'ground: { valley: { floor: 450 m, rim: 400 m, middle: -120.493, half-width: 0.004 } }\n',
  },

  *check(leg, tools) {
    const { ask } = tools;
    const height = ask(legHeight, leg);
    const craft = ask(legAltitudes, leg);
    if (craft.kind === 'follows') {
      if (!exceeds(height.least.value, GROUND)) {
        yield {
          found: {
            at: craft.written.span,
            subject: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
            message: `leg ${leg.from.id.value} to ${leg.to.id.value} follows the ground ${sayNumber(craft.height)} m above it within ${sayNumber(craft.within)} m, so it can touch the ground; this plan sets that`,
            measured: { value: height.least.value, unit: 'm', frame: 'above ground' },
            limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
          },
        };
      }
    } else {
      const stretches = stretchesOfLeg(leg, GROUND, 'under', tools);
      const worst = furthestOf(stretches, 'under');
      if (worst !== undefined) {
        const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
        const path = ask(pathOfLeg, leg);
        const along = worst.furthestAlong;
        const cause = elevationToBlameOnLeg(leg, tools);
        const deep =
          -worst.furthest < 0.05 ? 'touches it there' : `is ${sayNumber(-worst.furthest)} m below it at the worst`;
        yield {
          found: {
            at: leg.to.id.span,
            subject: name,
            message: `${name} meets the ground ${sayDistance(worst.from)} along and ${deep}; the terrain of the plan sets that`,
            measured: { value: worst.furthest, unit: 'm', frame: 'above ground' },
            limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
            place: {
              at: path.at(along),
              alongM: along,
              altitudeAmslM: altitudeAlong(craft.start.aboveSea, craft.end.aboveSea, path.length, along),
            },
            intervals: stretches.map((stretch) => ({ fromAlongM: stretch.from, toAlongM: stretch.to })),
            related: [{ at: leg.from.id.span, message: 'the leg starts here' }],
            ...(cause === undefined ? {} : { cause }),
            fixes:
              cause === undefined
                ? mendLeg(
                    leg,
                    1,
                    -worst.furthest,
                    { least: CLEARANCE, most: aboveGround(Number.POSITIVE_INFINITY) },
                    tools,
                  )
                : [],
          },
        };
      } else if (height.least.value > 0) {
        yield {
          margin: {
            subject: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
            at: leg.to.id.span,
            measured: { value: height.least.value, unit: 'm', frame: 'above ground' },
            limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
            room: height.least.value,
            error: height.error,
            place: { at: height.least.at, alongM: height.least.along },
          },
        };
      }
    }
    requireWhole(height);
  },
});
