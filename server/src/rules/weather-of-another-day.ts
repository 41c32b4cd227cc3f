import { FORECAST_HOURS } from '../facts/due.ts';
import { issuedAt, meets, observationCounts, validHours } from '../facts/stated-weather.ts';
import { windowOf } from '../facts/weather-in-window.ts';
import type { DateOrTime } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { endOfDay, sayDate, sayTimeAndUtc, startOfDay } from '../units/calendar.ts';
import type { Instant } from '../units/frames.ts';
import { sayList } from '../units/say.ts';

const HOUR = 3_600_000;
/** An observation older than this is of another day, whatever the hour. */
const OF_THE_DAY = 24 * HOUR;

interface Old {
  readonly at: Span;
  readonly said: string;
}

/** The hours in which something was seen: a date alone is its whole day. */
const seenHours = (seen: DateOrTime, offset: number): { readonly first: Instant; readonly last: Instant } =>
  'time' in seen
    ? { first: seen.time.at, last: seen.time.at }
    : { first: startOfDay(seen.date, offset), last: endOfDay(seen.date, offset) };

export default defineRule({
  visits: 'plan',
  title: 'the weather in the plan is of another day',
  question: 'Is the plan of today?',
  level: 'caution',
  basis: 'practice',
  why: 'A plan that is flown again keeps the weather of its last flight. It reads as well as today’s, and it is the one part of the plan that is surely wrong.',
  condition:
    'An observation was not made after the window, nor more than 24 hours before it; a forecast speaks of at least a part of the window; values by hand with `seen` were not seen after the window, nor more than 30 hours before it, which is as far as an aerodrome forecast reaches. No report names its month: the day nearest to the window is taken.',
  mend: 'Paste the reports of the day. An observation counts when it is at most 90 min older than the beginning of the window.',
  sources: [{ cite: 'age of weather', edition: '1', trust: 'common practice, no source' }],
  needs: ['weather'],
  example: {
    faulty:
      'weather:\n  metar: KZZU 071255Z 24006KT 10SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
    sound:
      'weather:\n  metar: KZZU 141255Z 24006KT 10SM SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
  },

  *check(plan, { world }) {
    const { seen } = plan.weather;
    const reports = (world.reports ?? []).flatMap(({ report, name, at }) =>
      report === undefined ? [] : [{ report, name, at }],
    );
    if (reports.length === 0 && seen === undefined) return;
    const window = windowOf(plan);
    const offsetMinutes = plan.window?.from?.value.offsetMinutes ?? 0;
    const say = (at: Instant): string => sayTimeAndUtc({ at, offsetMinutes });
    const old: Old[] = [];
    for (const { report, name, at } of reports) {
      const issued = issuedAt(report, window);
      if (report.kind === 'observation') {
        const counts =
          observationCounts(report, window) || (issued <= window.until && window.from - issued <= OF_THE_DAY);
        if (!counts) old.push({ at, said: `${name} was observed at ${say(issued)}` });
      } else {
        const valid = validHours(report, window);
        if (valid !== undefined && !meets(valid, window)) old.push({ at, said: `${name} ends at ${say(valid.until)}` });
      }
    }
    if (seen !== undefined) {
      const { first, last } = seenHours(seen.value, offsetMinutes);
      if (first > window.until || window.from - last > FORECAST_HOURS * HOUR) {
        const when = 'date' in seen.value ? sayDate(seen.value.date) : say(seen.value.time.at);
        old.push({ at: seen.span, said: `the values by hand were seen at ${when}` });
      }
    }
    const [first, ...more] = old;
    if (first === undefined) return;
    yield {
      found: {
        at: first.at,
        subject: 'the weather',
        message: `the window begins at ${say(window.from)}, but ${sayList(old.map(({ said }) => said))}; common practice takes the weather of the day`,
        related: more.map(({ at, said }) => ({ at, message: said })),
      },
    };
  },
});
