import { given } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { windInWindow } from '../facts/weather-in-window.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'the wind is stronger than the aircraft may bear',
  question: 'What weather?',
  level: 'stop',
  basis: 'declared',
  why: 'Above the wind that its maker allows an aircraft no longer holds its place: it drifts into what it was to look at, and the way home takes more than the battery has.',
  condition:
    'Neither the wind nor its gust in the window of the flight is above `max-wind` of the aircraft file: by hand, else by every report that counts for the window. The strongest that a forecast allows for counts, in its temporary and probable changes, too. `P99KT` is at least 99 kt.',
  mend: 'Wait for less wind, or take an aircraft that bears it. Wind at flight height is stronger than near the ground.',
  sources: [
    { cite: '14 CFR 107.49(a)(1)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: "the aircraft file, by its maker's manual", edition: '1' },
  ],
  needs: ['weather', 'aircraft'],
  example: {
    faulty: 'weather: { wind: { from: 240 deg, speed: 6 m/s, gust: 11 m/s }, visibility: 10 km, cloud-base: none }\n',
    sound: 'weather: { wind: { from: 240 deg, speed: 6 m/s, gust: 10 m/s }, visibility: 10 km, cloud-base: none }\n',
  },

  *check(aircraft, { ask, plan }) {
    const wind = ask(windInWindow, plan);
    const winds = wind.values.map(({ value, ...stated }) => {
      const gusts = value.gust !== undefined && value.gust > value.speed;
      return { ...stated, what: gusts ? 'gust' : 'wind', strength: gusts ? value.gust : value.speed };
    });
    const [strongest] = winds.sort((one, other) => other.strength - one.strength);
    if (strongest !== undefined) {
      const maxWind = given(aircraft.maxWind, 'the greatest wind that the aircraft bears (max-wind)');
      const { strength, what, by } = strongest;
      const at = by === 'this plan' && what === 'gust' ? (plan.weather.wind?.gust?.span ?? strongest.at) : strongest.at;
      const measured = { value: strength, unit: 'm/s' } as const;
      const limit = { value: maxWind.value, unit: 'm/s', setBy: 'the aircraft file (max-wind)' } as const;
      if (exceeds(strength, maxWind.value)) {
        const decimals = decimalsToTell(strength, maxWind.value);
        yield {
          found: {
            at,
            subject: 'the wind',
            message: `${by} gives a ${what} of ${sayNumber(strength, decimals)} m/s; the aircraft file (max-wind) allows at most ${sayNumber(maxWind.value, 2)} m/s`,
            measured,
            limit,
            related: [{ at: maxWind.span, message: 'the limit stands here' }],
          },
        };
      } else yield { margin: { subject: 'the wind', at, measured, limit, room: maxWind.value - strength } };
    }
    requireWhole(wind);
  },
});
