import { flownLegs } from '../facts/flown-legs.ts';
import { type Hidden, legMasked } from '../facts/hidden.ts';
import { orLacking } from '../facts/lacking.ts';
import { isInGround } from '../facts/who-sees.ts';
import { totalLength } from '../geo/interval.ts';
import type { Leg } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { waiversOf } from '../rulebook/waived.ts';
import { sayCount, sayDistance, sayNumber } from '../units/say.ts';

interface Masked {
  readonly leg: Leg;
  readonly hidden: Hidden;
  readonly over: number;
}

export default defineRule({
  visits: 'flight',
  title: 'the ground stands in the way of the link',
  question: 'Will it come home?',
  level: 'caution',
  basis: 'practice',
  why: 'Radio waves of these links go through leaves and bend a little, but not through a hill. Behind one the link breaks off at once, and the aircraft does what was set for a lost link.',
  condition:
    'A straight line from the hands of the pilot, 1.6 m (5 ft 3 in) above the ground, reaches the aircraft all along every leg, over an Earth of four thirds of its radius. It is judged where a waiver of 14 CFR 107.31 lets the aircraft go out of sight; without one `hidden-from-pilot` tells the same place, which is then not told again.',
  mend: 'Let the pilot stand where the whole route is in view, fly higher behind the rise, or set what the aircraft does after a lost link so that it does no harm there.',
  sources: [
    { cite: 'Recommendation ITU-R P.453, effective radius of the Earth', edition: 'not dated', trust: 'from memory' },
    { cite: 'height of the antenna', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['terrain'],
  example: {
    faulty:
      'authorisations: [{ number: W-31, zone: 14 CFR 107.31, from: 2026-06-14, until: 2026-06-14, holder: pilot }]\nroute:\n  - take-off: home\n    climb-to: 70 m AGL\n  - point: far-side\n    at: 47.5, -120.4985\n    altitude: 30 m AGL\n  - land: home\n',
    sound:
      'authorisations: [{ number: W-31, zone: 14 CFR 107.31, from: 2026-06-14, until: 2026-06-14, holder: pilot }]\nroute:\n  - take-off: home\n    climb-to: 70 m AGL\n  - point: far-side\n    at: 47.5, -120.4985\n    altitude: 75 m AGL\n  - land: home\n',
    world: 'ground: { valley: { floor: 440 m, rim: 400 m, middle: -120.499, half-width: 0.0005 } }\n',
    soundWorld: 'ground: { valley: { floor: 440 m, rim: 400 m, middle: -120.499, half-width: 0.0005 } }\n',
  },

  *check(flight, tools) {
    const isWaived =
      tools.ruleSet === 'us-part-107' && waiversOf(tools.plan, '107.31').some(({ mismatch }) => mismatch === undefined);
    if (!isWaived) return;
    const masked = tools.ask(flownLegs, flight).flatMap((leg): readonly Masked[] => {
      if (isInGround(leg, tools)) return [];
      // Where the ground is not known, `hidden-from-pilot` has the gap.
      const found = orLacking(() => tools.ask(legMasked, leg));
      if ('missing' in found) return [];
      const hidden = found.known.hidden.find(({ watcher }) => watcher.member.role === 'pilot');
      const over = hidden?.worst?.over;
      return hidden === undefined || over === undefined ? [] : [{ leg, hidden, over }];
    });
    const [first] = masked;
    if (first === undefined) return;
    const worst = masked.reduce((one, other) => (other.over > one.over ? other : one), first);
    const others = masked.filter((one) => one !== worst);
    const more = others.length === 0 ? '' : ` (with ${sayCount(others.length, 'more leg')})`;
    const name = `leg ${worst.leg.from.id.value} to ${worst.leg.to.id.value}`;
    yield {
      found: {
        at: worst.leg.to.id.span,
        subject: `flight ${flight.number}`,
        message: `${name} is behind the ground for the link of the pilot for ${sayDistance(totalLength(worst.hidden.stretches))}${more}; the ground rises ${sayNumber(Math.max(0, worst.over))} m above the straight line`,
        measured: { value: worst.over, unit: 'm' },
        limit: { value: 0, unit: 'm', setBy: 'the straight line' },
        intervals: worst.hidden.stretches.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to })),
        related: others.map(({ leg }) => ({
          at: leg.to.id.span,
          message: `leg ${leg.from.id.value} to ${leg.to.id.value} is, too`,
        })),
      },
    };
  },
});
