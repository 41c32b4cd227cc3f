import { legAirSpeed } from '../facts/air-speed.ts';
import { aircraftOfPlan } from '../facts/aircraft-of-plan.ts';
import { given } from '../facts/fact.ts';
import { legsTooFastInGust } from '../facts/legs-in-gust.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg asks for more speed through the air than the aircraft has',
  question: 'How fast?',
  level: 'stop',
  basis: 'declared',
  why: 'A speed over the ground against the wind takes that much more through the air. What the aircraft cannot give is lost over the ground: it comes late, on less energy, and in the worst case it does not come home.',
  condition:
    'The speed that the leg states, through air or with the wind of the window added to a speed over ground, is not more than `max-speed` of the aircraft file. What only a gust makes too much is a caution: the aircraft falls back for a moment.',
  mend: 'Fly the leg slower, turn it out of the wind, or wait for less wind.',
  sources: [{ cite: 'FAA-H-8083-25, chapter 16, wind triangle', edition: 'C (2023)', trust: 'secondary copy' }],
  needs: ['aircraft', 'weather'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 20 m/s through air }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 12 m/s through air }\n  - land: home\n',
  },

  *check(leg, tools) {
    const written = leg.to.leg?.speed;
    if (written === undefined) return;
    const most = given(aircraftOfPlan(tools).maxSpeed, 'the max-speed of the aircraft');
    const speed = tools.ask(legAirSpeed, leg);
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const measured = { value: speed.most, unit: 'm/s', frame: 'through air' } as const;
    const limit = {
      value: most.value,
      unit: 'm/s',
      frame: 'through air',
      setBy: 'the aircraft file (max-speed)',
    } as const;
    if (!exceeds(speed.most, most.value)) {
      yield { margin: { subject: name, at: written.span, measured, limit, room: most.value - speed.most } };
      return;
    }
    const inWind =
      speed.in === undefined
        ? ''
        : ` in the ${speed.in.kind} of ${sayNumber(speed.in.strength)} m/s of ${speed.in.wind.by}`;
    const onlyGust = !exceeds(speed.mostSteady, most.value);
    const gust = onlyGust && tools.ask(legsTooFastInGust, tools.plan) > 1 ? speed.in : undefined;
    yield {
      found: {
        at: written.span,
        subject: name,
        ...(onlyGust ? { level: 'caution' as const } : {}),
        message: `${name} takes ${sayNumber(speed.most, decimalsToTell(speed.most, most.value))} m/s through air${inWind}; the aircraft file (max-speed) has at most ${sayNumber(most.value, 2)} m/s`,
        measured,
        limit,
        ...(gust === undefined ? {} : { cause: { at: gust.wind.at, name: 'the gust' } }),
        related: [
          { at: most.span, message: 'the limit stands here' },
          ...(speed.in === undefined ? [] : [{ at: speed.in.wind.at, message: `the ${speed.in.kind} stands here` }]),
        ],
      },
    };
  },
});
