import { given, NotAssessed } from '../facts/fact.ts';
import { itemPlace } from '../facts/item-place.ts';
import { takeOffElevation } from '../facts/take-off-elevation.ts';
import { stationOf } from '../facts/weather-in-window.ts';
import { distance } from '../geo/geodesy.ts';
import { defineRule } from '../rulebook/rule.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { exceeds } from '../units/exceeds.ts';
import { metres } from '../units/frames.ts';
import { sayMetresAgainst, sayNumber } from '../units/say.ts';

/** Common practice, no source. */
const FARTHEST = metres(10 * LENGTH_UNITS.NM);
const MOST_DIFFERENCE = metres(1000 * LENGTH_UNITS.ft);

export default defineRule({
  visits: 'plan',
  title: 'the weather was reported far from the flight',
  question: 'What weather?',
  level: 'caution',
  basis: 'practice',
  why: 'The valley fills with fog while the airfield on the plain reports ten miles. A report says what it is like at its station; the farther away and the higher or lower that lies, the less it says of the flight.',
  condition:
    'The station of each report is at most 10 NM (18520 m) from the take-off place, and at most 1,000 ft (304.8 m) higher or lower.',
  mend: 'Take the report of a nearer station, or look on the spot and write the values by hand.',
  sources: [{ cite: 'distance and height of a weather station', edition: '1', trust: 'common practice, no source' }],
  needs: ['weather', 'terrain'],
  example: {
    faulty:
      'weather:\n  metar: KZZU 141255Z 24006KT 10SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.3, lon: -120.5 }, elevation: 376 m }]\n',
    sound:
      'weather:\n  metar: KZZU 141255Z 24006KT 10SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
  },

  *check(plan, { ask, world }) {
    const reports = (world.reports ?? []).flatMap(({ report }) => report ?? []);
    if (reports.length === 0) return;
    const { first } = given(plan.flights[0], 'the route');
    const site = plan.site.takeOff?.at?.value ?? ask(itemPlace, first);
    for (const station of plan.weather.stations ?? []) {
      if (!reports.some((report) => stationOf(report, plan) === station)) continue;
      const code = station.code?.value ?? '';
      const away = distance(site, given(station.at, `the position of station ${code}`).value);
      if (exceeds(away, FARTHEST)) {
        yield {
          found: {
            at: station.at?.span ?? station.span,
            subject: `station ${code}`,
            message: `station ${code} is ${sayMetresAgainst(away, FARTHEST)} from the take-off place; common practice takes reports from at most 18520 m (10 NM) away`,
            measured: { value: away, unit: 'm' },
            limit: { value: FARTHEST, unit: 'm', setBy: 'common practice' },
            cause: { at: station.span, name: `station ${code}` },
          },
        };
      }
      const elevation = given(station.elevation, `the elevation of station ${code}`);
      const difference = metres(Math.abs(elevation.value - ask(takeOffElevation, first).value));
      if (exceeds(difference, MOST_DIFFERENCE)) {
        const side = elevation.value > ask(takeOffElevation, first).value ? 'above' : 'below';
        yield {
          found: {
            at: elevation.span,
            subject: `station ${code}`,
            message: `station ${code} lies at ${sayNumber(elevation.value)} m above mean sea level, ${sayMetresAgainst(difference, MOST_DIFFERENCE)} ${side} the take-off place; common practice takes reports from at most 304.8 m (1000 ft) higher or lower`,
            measured: { value: difference, unit: 'm' },
            limit: { value: MOST_DIFFERENCE, unit: 'm', setBy: 'common practice' },
            cause: { at: station.span, name: `station ${code}` },
          },
        };
      }
    }
    const unplaced = reports.find((report) => stationOf(report, plan) === undefined);
    if (unplaced !== undefined) throw new NotAssessed(`the plan does not say where station ${unplaced.station} lies`);
  },
});
