import { NotAssessed } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { legHeight } from '../facts/leg-height.ts';
import { elevationToBlameOnLeg } from '../rulebook/elevation-to-blame.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayInItsWords } from '../rulebook/written-height.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg is lower than the height above which the crew saw nothing',
  question: 'Does it hit anything?',
  level: 'caution',
  basis: 'practice',
  why: 'The statement says that nothing stands higher than a certain height. Below that height there may be trees, fences and wires, and nobody has said where.',
  condition:
    'The least height above ground along each leg is not below `none-above`. Areas are flown by hand and by eye and are left out, as are the climb at the take-off and the descent at the landing.',
  mend: 'Fly the leg higher, or list the obstacles near it.',
  sources: [{ cite: 'what a statement says', edition: '1', trust: 'common practice, no source' }],
  needs: ['obstacles', 'terrain'],
  example: {
    faulty: 'obstacles: { none-above: 70 m AGL, seen: 2026-06-12, by: pilot }\n',
    sound: 'obstacles: { none-above: 20 m AGL, seen: 2026-06-12, by: pilot }\n',
  },

  *check(leg, tools) {
    const { ask, plan } = tools;
    const { obstacles } = plan;
    if (obstacles?.kind !== 'statement' || obstacles.noneAbove === undefined) return;
    const above = obstacles.noneAbove.value;
    if (!('aboveGround' in above)) {
      throw new NotAssessed(
        `the statement about obstacles holds above ${sayInItsWords(obstacles.noneAbove, obstacles.noneAbove.number)}; to be compared with the legs it needs a height above ground (AGL)`,
      );
    }
    const height = ask(legHeight, leg);
    const { least } = height;
    // A leg that meets the ground has a finding of its own.
    if (!fallsShortOf(least.value, above.aboveGround) || !exceeds(least.value, aboveGround(0))) {
      requireWhole(height);
      return;
    }
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    yield {
      found: {
        at: leg.to.id.span,
        subject: name,
        message: `${name} comes down to ${sayMetresAgainst(least.value, above.aboveGround)} above ground; that nothing stands there is stated in this plan only from ${sayNumber(above.aboveGround)} m above ground upwards`,
        measured: { value: least.value, unit: 'm', frame: 'above ground' },
        limit: { value: above.aboveGround, unit: 'm', frame: 'above ground', setBy: 'this plan (obstacles)' },
        cause: elevationToBlameOnLeg(leg, tools) ?? {
          at: obstacles.noneAbove.span,
          name: 'the statement about obstacles',
        },
        place: { at: least.at, alongM: least.along },
      },
    };
    requireWhole(height);
  },
});
