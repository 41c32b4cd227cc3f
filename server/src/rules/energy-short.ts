import { emptyPlace } from '../facts/empty-place.ts';
import { sayEnergy } from '../facts/energy-supply.ts';
import { flightEnergy, type StageEnergy } from '../facts/flight-energy.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { reservePolicy } from '../facts/reserve-policy.ts';
import { turningBack } from '../facts/turning-back.ts';
import { sayFlight, sayTurning } from '../rulebook/flight-words.ts';
import { legByLeg } from '../rulebook/leg-by-leg.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { splitFlight } from '../rulebook/split-flight.ts';
import { takesMoreThan } from '../units/exceeds.ts';
import { share } from '../units/frames.ts';
import { decimalsToTell, sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';

/** The greatest reserve that anybody states; nought where nobody does, which is told by itself. */
const reserveOf = (tools: RuleTools): number => {
  const policy = orLacking(() => tools.ask(reservePolicy, tools.plan));
  const stated = isMissing(policy) ? undefined : policy.known;
  return Math.max(stated?.value ?? 0, tools.settings.limits.reserve?.value.value ?? 0);
};

/** `leg mill to weir`, `the descent at home` */
const sayStage = ({ stage }: StageEnergy): string => {
  const { kind, leg, item } = stage;
  if (leg !== undefined) return `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  if (kind === 'climb-out') return `the climb at ${item.id.value}`;
  if (kind === 'let-down') return `the descent at ${item.id.value}`;
  return kind === 'area' ? `area ${item.id.value}` : `the ${kind === 'turn' ? 'turn' : 'wait'} at ${item.id.value}`;
};

export default defineRule({
  visits: 'flight',
  title: 'the energy does not suffice for the flight',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'physics',
  why: 'An aircraft that runs out of energy comes down where it is. The way out with the wind hides what the way back against it takes, and an old or cold battery holds less than its label says.',
  condition:
    'The energy of climb, legs, turns, waits, areas and descent, each in the worst wind of the window, is not more than what is usable: nominal energy times usable share, health and temperature. Powers and endurance are brought to the mass and the air of this flight.',
  mend: 'Make the flight shorter, land for another battery in the middle (`land`, `battery`, `take-off`), or wait for less wind.',
  sources: [
    { cite: '14 CFR 107.49(d)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: 'energy as the sum of power and time', edition: 'physics' },
    {
      cite: 'shares for cold, and 25 C above standard at 980 hPa where no weather is given',
      edition: '2026',
      trust: 'common practice, no source',
    },
  ],
  needs: ['aircraft', 'weather', 'terrain'],
  example: {
    faulty: `route:
  - take-off: home
  - area: roof
    inside: { circle: 20 m, around: { lat: 47.5, lon: -120.499 } }
    from: 10 m AGL
    to: 30 m AGL
    for: 28 min
    speed: 2 m/s over ground
    leg: { speed: 8 m/s over ground }
  - land: home
    leg: { speed: 8 m/s over ground }
window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:20 -07:00 }
`,
    sound: `route:
  - take-off: home
  - area: roof
    inside: { circle: 20 m, around: { lat: 47.5, lon: -120.499 } }
    from: 10 m AGL
    to: 30 m AGL
    for: 12 min
    speed: 2 m/s over ground
    leg: { speed: 8 m/s over ground }
  - land: home
    leg: { speed: 8 m/s over ground }
`,
  },

  *check(flight, tools) {
    yield* legByLeg(flight, tools);
    const energy = tools.ask(flightEnergy, flight);
    const { supply, used } = energy;
    const whole = share(1);
    const subject = sayFlight(flight, tools);
    const at = flight.first.id.span;
    const measured = { value: used * 100, unit: '%' } as const;
    const limit = { value: 100, unit: '%', setBy: `the aircraft file (${supply.of})` } as const;
    if (!takesMoreThan(used, whole)) {
      yield { margin: { subject, at, measured, limit, room: 100 - used * 100 } };
      requireWhole(energy);
      return;
    }
    const empty = tools.ask(emptyPlace, flight);
    const back = orLacking(() => tools.ask(turningBack, flight).noReturn);
    const noReturn = isMissing(back) ? undefined : back.known;
    const least = energy.lacking.length === 0 ? '' : 'at least ';
    yield {
      found: {
        at,
        subject,
        message: `${subject} takes ${least}${sayEnergy(supply, used, decimalsToTell(used * 100, 100))} of the usable energy${empty === undefined ? '' : ` and runs out of it on ${sayStage(empty.step)}`}; the aircraft file (${supply.of}) has 100 % (${sayEnergy(supply, 1).split('(')[1] ?? ''}`,
        measured,
        limit,
        fixes: splitFlight(flight, reserveOf(tools), tools),
        ...(empty?.at === undefined
          ? {}
          : { place: { at: empty.at, ...(empty.along !== undefined && { alongM: empty.along }) } }),
        related: [
          ...(empty === undefined
            ? []
            : [{ at: empty.step.stage.item.id.span, message: `nothing is left on ${sayStage(empty.step)}` }]),
          ...(noReturn === undefined
            ? []
            : [
                {
                  at: noReturn.step.stage.item.id.span,
                  message: `the point of no return is on ${sayTurning(noReturn)}, with ${sayNumber(noReturn.left * 100)} % left`,
                },
              ]),
        ],
      },
    };
  },
});
