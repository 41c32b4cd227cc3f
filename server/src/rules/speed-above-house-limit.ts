import { groundSpeed } from '../facts/ground-speed.ts';
import { HOUSE, sayReason, setHere } from '../rulebook/house.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg is flown faster than the house allows',
  question: 'How fast?',
  level: 'stop',
  basis: 'practice',
  why: 'Twice the speed is four times the energy of an impact, and twice the way before somebody reacts. A house may want less than the law lets it have.',
  condition:
    'Where the settings have `speed`, the speed over the ground on each leg is not greater, in the wind that makes it fastest.',
  mend: 'Fly the leg slower.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['weather'],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { speed: { is: 6 m/s, because: near horses } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { speed: { is: 8 m/s, because: near horses } }\n',
  },

  *check(leg, { ask, settings }) {
    const house = settings.limits.speed;
    if (house === undefined) return;
    const speed = ask(groundSpeed, leg);
    const written = leg.to.leg?.speed;
    if (speed === undefined || speed.kind === 'cannot-hold' || written === undefined) return;
    const most = house.value.value;
    const subject = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const measured = { value: speed.fastest, unit: 'm/s', frame: 'over ground' } as const;
    const limit = { value: most, unit: 'm/s', frame: 'over ground', setBy: HOUSE } as const;
    if (!exceeds(speed.fastest, most)) {
      yield { margin: { subject, at: written.span, measured, limit, room: most - speed.fastest } };
      return;
    }
    const how = speed.kind === 'from-wind' ? ` in the ${speed.fastestIn} of ${speed.by}` : '';
    yield {
      found: {
        at: written.span,
        subject,
        message: `${subject} is flown at ${sayNumber(speed.fastest, decimalsToTell(speed.fastest, most))} m/s over ground${how}; ${HOUSE} allows at most ${sayNumber(most, 2)} m/s${sayReason(house)}`,
        measured,
        limit,
        related: [setHere(house)],
      },
    };
  },
});
