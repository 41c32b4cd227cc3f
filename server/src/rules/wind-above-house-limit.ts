import { requireWhole } from '../facts/lacking.ts';
import { windInWindow } from '../facts/weather-in-window.ts';
import { HOUSE, sayReason, setHere } from '../rulebook/house.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the wind is stronger than the house allows',
  question: 'What weather?',
  level: 'stop',
  basis: 'practice',
  why: 'What an aircraft bears is not what every crew masters. A house that sets its own wind has seen what happens above it.',
  condition:
    'Where the settings have `wind`, neither the wind nor its gust in the window is stronger: by hand, else by every report that counts, in the changes that a forecast only allows for, too. The limit of the aircraft holds beside it.',
  mend: 'Wait for less wind.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['weather'],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { wind: { is: 4 m/s, because: new crews } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { wind: { is: 5 m/s, because: new crews } }\n',
  },

  *check(plan, { ask, settings }) {
    const house = settings.limits.wind;
    if (house === undefined) return;
    const most = house.value.value;
    const wind = ask(windInWindow, plan);
    const winds = wind.values.map(({ value, ...stated }) => {
      const gusts = value.gust !== undefined && value.gust > value.speed;
      return { ...stated, what: gusts ? 'gust' : 'wind', strength: gusts ? value.gust : value.speed };
    });
    const [strongest] = winds.sort((one, other) => other.strength - one.strength);
    if (strongest !== undefined) {
      const { strength, what, by } = strongest;
      const at = by === 'this plan' && what === 'gust' ? (plan.weather.wind?.gust?.span ?? strongest.at) : strongest.at;
      const measured = { value: strength, unit: 'm/s' } as const;
      const limit = { value: most, unit: 'm/s', setBy: HOUSE } as const;
      if (exceeds(strength, most)) {
        yield {
          found: {
            at,
            subject: 'the wind',
            message: `${by} gives a ${what} of ${sayNumber(strength, decimalsToTell(strength, most))} m/s; ${HOUSE} allows at most ${sayNumber(most, 2)} m/s${sayReason(house)}`,
            measured,
            limit,
            related: [setHere(house)],
          },
        };
      } else yield { margin: { subject: 'the wind', at, measured, limit, room: most - strength } };
    }
    requireWhole(wind);
  },
});
