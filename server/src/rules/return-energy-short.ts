import { sayEnergy } from '../facts/energy-supply.ts';
import { flightEnergy } from '../facts/flight-energy.ts';
import { requireWhole } from '../facts/lacking.ts';
import { type PointOfNoReturn, type Turning, turningBack } from '../facts/turning-back.ts';
import { sayFlight, sayTurning } from '../rulebook/flight-words.ts';
import { legByLeg } from '../rulebook/leg-by-leg.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayTime } from '../units/calendar.ts';
import { takesMoreThan } from '../units/exceeds.ts';
import { share } from '../units/frames.ts';
import { decimalsToTell } from '../units/say.ts';

const sayWay = (turning: Turning, { supply }: { readonly supply: Parameters<typeof sayEnergy>[0] }): string => {
  const { way, left } = turning;
  const place = way.to.item.id.value;
  if (!Number.isFinite(way.energy))
    return `the wind does not let the aircraft get to ${place} at the speeds of its file`;
  return `the way to ${place} takes ${sayEnergy(supply, way.energy, decimalsToTell(way.energy * 100, left * 100))}`;
};

const sayBeyond = ({ way }: Turning): string =>
  Number.isFinite(way.energy)
    ? `from there on the way to ${way.to.item.id.value} takes more than`
    : `from there on the wind does not let the aircraft get back to ${way.to.item.id.value}, and it is of no use that it has`;

const placeOf = ({ at, along }: Turning) => ({ at, ...(along !== undefined && { alongM: along }) });

export default defineRule({
  visits: 'flight',
  title: 'the energy does not suffice for the way home',
  question: 'Will it come home?',
  level: 'stop',
  basis: 'physics',
  why: 'Any flight can be broken off at any moment: a link fails, a stranger walks in, a gust front comes. From then on the straight way home counts, against the wind that carried the aircraft out, and after the climb that a lost link begins with.',
  condition:
    'From every place of each leg and area, what is left takes the aircraft to a landing place of the flight: the wait for a lost link, the climb to its height, the straight way at `cruise-speed`, or at `max-speed` where that takes less, against the worst wind of the window, and the descent. A flight that lands elsewhere and passes a point from which it gets there but not home is a caution that names the point. A flight whose energy does not suffice at all is told as that.',
  mend: 'Turn the route so that the way out is against the wind, stay nearer, or put a landing place near the far end.',
  sources: [
    { cite: '14 CFR 107.49(d)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: 'FAA-H-8083-25, chapter 16, wind triangle', edition: 'C (2023)', trust: 'secondary copy' },
  ],
  needs: ['aircraft', 'weather', 'terrain'],
  example: {
    faulty:
      'weather: { wind: { from: 270 deg, speed: 12 m/s, gust: 17 m/s }, visibility: 10 km, cloud-base: none }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 5 m/s over ground }\n  - land: home\n    leg: { speed: 2 m/s over ground }\n',
    sound:
      'weather: { wind: { from: 270 deg, speed: 5 m/s, gust: 7 m/s }, visibility: 10 km, cloud-base: none }\nroute:\n  - take-off: home\n  - point: east-bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 5 m/s over ground }\n  - land: home\n    leg: { speed: 2 m/s over ground }\n',
  },

  *check(flight, tools) {
    yield* legByLeg(flight, tools);
    const energy = tools.ask(flightEnergy, flight);
    if (takesMoreThan(energy.used, share(1))) return;
    const back = tools.ask(turningBack, flight);
    const { tightest, noReturn } = back;
    const subject = sayFlight(flight, tools);
    const said = (turning: Turning, message: string, level?: 'caution') => ({
      found: {
        at: turning.step.stage.item.id.span,
        subject,
        ...(level === undefined ? {} : { level }),
        message,
        place: placeOf(turning),
        ...(Number.isFinite(turning.way.energy)
          ? {
              measured: { value: turning.way.energy * 100, unit: '%' } as const,
              limit: { value: turning.left * 100, unit: '%', setBy: 'what is left' } as const,
            }
          : {}),
      },
    });
    const when = ({ time }: PointOfNoReturn): string => {
      const offsetMinutes = tools.plan.window?.from?.value.offsetMinutes ?? 0;
      return time === undefined
        ? ''
        : `, passed between ${sayTime({ at: time.earliest, offsetMinutes })} and ${sayTime({ at: time.latest, offsetMinutes })}`;
    };
    if (tightest !== undefined && takesMoreThan(tightest.way.energy, tightest.left)) {
      yield said(
        tightest,
        `on ${sayTurning(tightest)}, ${sayWay(tightest, energy)}; ${sayEnergy(energy.supply, tightest.left)} of the usable energy are left there`,
      );
    } else if (noReturn !== undefined) {
      yield said(
        noReturn,
        `the point of no return is on ${sayTurning(noReturn)}${when(noReturn)}: ${sayBeyond(noReturn)} the ${sayEnergy(energy.supply, noReturn.left)} of the usable energy that are left there`,
        'caution',
      );
    } else if (tightest !== undefined) {
      yield {
        margin: {
          subject: tightest.subject,
          at: tightest.step.stage.item.id.span,
          measured: { value: tightest.way.energy * 100, unit: '%' },
          limit: { value: tightest.left * 100, unit: '%', setBy: 'what is left' },
          room: (tightest.left - tightest.way.energy) * 100,
          place: placeOf(tightest),
        },
      };
    }
    requireWhole(back);
  },
});
