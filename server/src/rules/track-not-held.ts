import type { FactTools } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { groundSpeed } from '../facts/ground-speed.ts';
import { orLacking } from '../facts/lacking.ts';
import type { Leg } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayNumber } from '../units/say.ts';

/** Of how many legs of the plan the wind takes the track: of more than one, and the wind is to blame, not the leg. */
const legsNotHeld = ({ ask, plan }: FactTools): number => {
  const held = (leg: Leg): boolean => {
    const speed = orLacking(() => ask(groundSpeed, leg));
    return !('known' in speed && speed.known?.kind === 'cannot-hold');
  };
  return plan.flights.flatMap((flight) => ask(flownLegs, flight)).filter((leg) => !held(leg)).length;
};

export default defineRule({
  visits: 'leg',
  title: 'the wind is stronger than the speed of a leg',
  question: 'How fast?',
  level: 'stop',
  basis: 'physics',
  why: 'Across the track the wind carries the aircraft off faster than it can steer against it; against the track it does not get forward at all. It does not arrive, and it does not come home.',
  condition:
    'With the airspeed of the leg the wind triangle has a solution in every wind that the plan or its reports give for the window and in its gust, with a speed over the ground above zero.',
  mend: 'Fly the leg faster, turn it into another direction, or wait for less wind.',
  sources: [{ cite: 'FAA-H-8083-25, chapter 16, wind triangle', edition: 'C (2023)', trust: 'secondary copy' }],
  needs: ['weather'],
  example: {
    faulty:
      'weather: { wind: { from: 90 deg, speed: 9 m/s }, visibility: 10 km, cloud-base: none }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s through air }\n  - land: home\n',
    sound:
      'weather: { wind: { from: 90 deg, speed: 4 m/s }, visibility: 10 km, cloud-base: none }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s through air }\n  - land: home\n',
  },

  *check(leg, tools) {
    const speed = tools.ask(groundSpeed, leg);
    const written = leg.to.leg?.speed;
    if (speed?.kind !== 'cannot-hold' || written === undefined) return;
    const { strength, from, wind } = speed;
    const byHand = tools.plan.weather.wind;
    const at = (wind.by === 'this plan' && speed.in === 'gust' ? byHand?.gust?.span : undefined) ?? wind.at;
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const direction = from === undefined ? 'from anywhere' : `from ${sayNumber(from)} degrees`;
    yield {
      found: {
        at: written.span,
        subject: name,
        message: `${name} has ${sayNumber(written.value)} m/s through air, and the ${speed.in} of ${sayNumber(strength)} m/s ${direction} does not let it hold its track; the wind of ${wind.by} sets that`,
        measured: { value: strength, unit: 'm/s' },
        limit: { value: written.value, unit: 'm/s', frame: 'through air', setBy: 'this plan (leg)' },
        related: [{ at, message: `the ${speed.in} stands here` }],
        ...(legsNotHeld(tools) > 1 ? { cause: { at, name: 'the wind' } } : {}),
      },
    };
  },
});
