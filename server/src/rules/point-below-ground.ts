import { itemAboveGround, ownHeight } from '../facts/item-height.ts';
import { itemPlace } from '../facts/item-place.ts';
import { elevationToBlame } from '../rulebook/elevation-to-blame.ts';
import { CLEARANCE } from '../rulebook/height-band.ts';
import { defineRule } from '../rulebook/rule.ts';
import { raiseBy } from '../rulebook/written-height.ts';
import { exceeds } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'item',
  title: 'a point lies on or below the ground',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'The aircraft would fly into the ground before it gets there. The usual cause is a height above the sea or above take-off where the ground is higher than at the take-off.',
  condition: 'The height of each point above the ground at its place is more than 0 m, by the terrain of the plan.',
  mend: 'Raise the point. A height above ground (AGL) can be read off without knowing the ground.',
  sources: [{ cite: 'the ground', edition: 'as the terrain file states', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 390 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 50 m AGL\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 450 m AMSL\n  - point: near\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(item, tools) {
    const written = ownHeight(item);
    if (written === undefined) return;
    const height = tools.ask(itemAboveGround, item);
    if (exceeds(height, aboveGround(0))) return;
    const cause = elevationToBlame(item, written, tools);
    const how = height < -0.05 ? `${sayNumber(-height)} m below the ground` : 'on the ground';
    yield {
      found: {
        at: written.span,
        subject: `${item.kind} ${item.id.value}`,
        message: `${item.id.value} is ${how}; the terrain of the plan sets that`,
        measured: { value: height, unit: 'm', frame: 'above ground' },
        limit: { value: 0, unit: 'm', frame: 'above ground', setBy: 'the ground' },
        place: { at: tools.ask(itemPlace, item) },
        ...(cause === undefined ? {} : { cause }),
        // A pattern that is raised for one of its points may be too high at the others.
        fixes:
          cause === undefined && item.partOf === undefined ? [raiseBy(item.id.value, written, CLEARANCE - height)] : [],
      },
    };
  },
});
