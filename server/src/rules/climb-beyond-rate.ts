import { aircraftOfPlan } from '../facts/aircraft-of-plan.ts';
import { groundSpeed } from '../facts/ground-speed.ts';
import { orLacking } from '../facts/lacking.ts';
import { legTime } from '../facts/leg-time.ts';
import { sayMinutes } from '../rulebook/flight-words.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds, lastsLongerThan } from '../units/exceeds.ts';
import { metresPerSecond, seconds } from '../units/frames.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';

export default defineRule({
  visits: 'leg',
  title: 'a leg is steeper than the aircraft climbs or descends at its speed',
  question: 'How fast?',
  level: 'caution',
  basis: 'declared',
  why: 'A leg is a straight line between its ends, and everything is judged along that line. An aircraft that flies over the ground at the stated speed and cannot climb as fast stays below the line, where the hill is; one that cannot come down as fast stays above it. Time and energy are worked out for the slower flight that keeps to the line.',
  condition:
    'At the speed that the leg states, its climb asks for no more than `climb-rate` and its descent for no more than `descent-rate` of the aircraft file, in the fastest wind of the window. A leg that follows the terrain has to have the time for all its climbs and descents. A leg that states no speed is flown as slowly as it takes.',
  exceptions: 'A climb or descent at one place has no speed over the ground.',
  mend: 'Fly the leg slower, climb at one place first, or make the leg longer.',
  sources: [{ cite: 'the aircraft file', edition: 'as its house states' }],
  needs: ['aircraft', 'terrain'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 20 m AGL\n  - point: ridge\n    at: 47.5, -120.4994\n    altitude: 100 m AGL\n    leg: { speed: 8 m/s over ground }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 20 m AGL\n  - point: ridge\n    at: 47.5, -120.4994\n    altitude: 100 m AGL\n    leg: { speed: 2 m/s over ground }\n  - land: home\n',
  },

  *check(leg, tools) {
    const written = leg.to.leg?.speed;
    if (written === undefined) return;
    // A leg whose track cannot be held is told as that.
    const flown = orLacking(() => tools.ask(groundSpeed, leg));
    if (!isMissing(flown) && flown.known?.kind === 'cannot-hold') return;
    const { level, climbing, descending } = tools.ask(legTime, leg);
    const vertical = climbing + descending;
    if (vertical === 0 || level.shortest === 0) return;
    const { climbRate, descentRate } = aircraftOfPlan(tools);
    const climbs = climbing >= descending;
    const rate = climbs ? climbRate : descentRate;
    if (rate === undefined) return;
    const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
    const needed = metresPerSecond((vertical / level.shortest) * rate.value);
    const key = climbs ? 'climb-rate' : 'descent-rate';
    if (leg.to.leg?.follows !== undefined) {
      const least = seconds(vertical);
      if (!lastsLongerThan(least, level.shortest)) return;
      yield {
        found: {
          at: written.span,
          subject: name,
          message: `${name} takes ${sayMinutes(least)} to climb and descend with the terrain at the rates of the aircraft file; at its own speed it has ${sayMinutes(level.shortest)} for it`,
          measured: { value: least, unit: 's' },
          limit: { value: level.shortest, unit: 's', setBy: 'this plan (leg)' },
        },
      };
      return;
    }
    const measured = { value: needed, unit: 'm/s' } as const;
    const limit = { value: rate.value, unit: 'm/s', setBy: `the aircraft file (${key})` } as const;
    if (!exceeds(needed, rate.value)) {
      yield { margin: { subject: name, at: written.span, measured, limit, room: rate.value - needed } };
      return;
    }
    const decimals = decimalsToTell(needed, rate.value);
    yield {
      found: {
        at: written.span,
        subject: name,
        message: `${name} asks for a ${climbs ? 'climb' : 'descent'} at ${sayNumber(needed, decimals)} m/s; the aircraft file (${key}) allows at most ${sayNumber(rate.value, 2)} m/s`,
        measured,
        limit,
        related: [{ at: rate.span, message: 'the limit stands here' }],
      },
    };
  },
});
