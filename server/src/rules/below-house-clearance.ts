import { requireWhole } from '../facts/lacking.ts';
import { legHeight } from '../facts/leg-height.ts';
import { HOUSE, sayReason } from '../rulebook/house.ts';
import { defineRule } from '../rulebook/rule.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import { sayDistance, sayMetresAgainst, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg comes nearer to the ground than the house allows',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'practice',
  why: 'Terrain data have errors, grass has deer and trees grow. A house that has set a clearance knows why it wants that much air below.',
  condition:
    'Where the settings have `ground-clearance`, the least height above ground along each leg is not less. Areas are flown by hand and by eye and are left out, as are the climb at the take-off and the descent at the landing.',
  mend: 'Fly the leg higher, put a point over the hill, or let the leg follow the terrain.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['terrain'],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { ground-clearance: { is: 70 m, because: tall trees } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { ground-clearance: { is: 30 m, because: tall trees } }\n',
  },

  *check(leg, { ask, settings }) {
    const house = settings.limits.groundClearance;
    if (house === undefined) return;
    const clearance = aboveGround(house.value.value);
    const height = ask(legHeight, leg);
    const { least } = height;
    const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const measured = { value: least.value, unit: 'm', frame: 'above ground' } as const;
    const setBy = HOUSE;
    const limit = { value: clearance, unit: 'm', frame: 'above ground', setBy } as const;
    const place = { at: least.at, alongM: least.along };
    if (fallsShortOf(least.value, clearance)) {
      yield {
        found: {
          at: leg.to.id.span,
          subject,
          message: `${subject} comes down to ${sayMetresAgainst(least.value, clearance)} above ground ${sayDistance(least.along)} along; ${setBy} asks for at least ${sayNumber(clearance)} m${sayReason(house)}`,
          measured,
          limit,
          place,
          related: [{ at: house.span, message: 'the house set the clearance here' }],
        },
      };
    } else {
      const room = least.value - clearance;
      yield { margin: { subject, at: leg.to.id.span, measured, limit, room, error: height.error, place } };
    }
    requireWhole(height);
  },
});
