import { describe, expect, test } from 'vitest';
import { hoursNear, timeNear } from '../../server/src/facts/report-times.ts';
import { cover, type StatedHours, statedHours } from '../../server/src/facts/stated-weather.ts';
import { decodeReport } from '../../server/src/host/weather/decode-report.ts';
import { readTime } from '../../server/src/plan/scalars/time.ts';
import { sayRfc3339 } from '../../server/src/units/calendar.ts';
import type { Instant } from '../../server/src/units/frames.ts';
import type { VisibilityBounds } from '../../server/src/world/weather-report.ts';

const at = (text: string): Instant => {
  const read = readTime(text);
  if (!read.ok) throw new Error(`the test has the time "${text}"`);
  return read.value.at;
};

const span = { anchor: { document: 'made', at: 0 }, from: 0, to: 0 };

describe('the month that a report does not name', () => {
  test.each([
    [14, '2026-06-14 13:40 Z', '2026-06-14T12:55:00Z'],
    [7, '2026-06-14 13:40 Z', '2026-06-07T12:55:00Z'],
    [30, '2026-06-02 00:10 Z', '2026-05-30T12:55:00Z'],
    [1, '2026-12-31 23:00 Z', '2027-01-01T12:55:00Z'],
    [31, '2026-06-14 13:40 Z', '2026-05-31T12:55:00Z'],
    // No month around it but January has a thirtieth near the middle of February.
    [30, '2026-02-14 13:40 Z', '2026-01-30T12:55:00Z'],
    [29, '2028-03-01 06:00 Z', '2028-02-29T12:55:00Z'],
  ])('a report of day %d near %s is of %s', (day, known, expected) => {
    expect(sayRfc3339(timeNear({ day, minutes: 12 * 60 + 55 }, at(known)))).toBe(expected);
  });

  test('hour 24 is midnight after the day', () => {
    expect(sayRfc3339(timeNear({ day: 14, minutes: 1440 }, at('2026-06-14 13:40 Z')))).toBe('2026-06-15T00:00:00Z');
  });

  test('hours that run backwards are none', () => {
    const from = { day: 15, minutes: 120 };
    expect(hoursNear({ from, until: { day: 14, minutes: 1080 } }, at('2026-06-14 13:40 Z'))).toBeUndefined();
  });
});

const WINDOW = { from: at('2026-06-14 13:40 Z'), until: at('2026-06-14 14:10 Z') };

const hoursOf = (text: string): StatedHours<VisibilityBounds> => {
  const decoded = decodeReport(text);
  if ('refused' in decoded) throw new Error(decoded.refused);
  return statedHours('visibility', { at: span, ...decoded }, decoded.report, { span }, WINDOW);
};

const said = (hours: StatedHours<VisibilityBounds>): readonly string[] =>
  [...hours.steady, ...hours.passing].map(
    ({ written, from, until }) => `${written} ${sayRfc3339(from).slice(8, 16)} ${sayRfc3339(until).slice(8, 16)}`,
  );

describe('the hours of a forecast', () => {
  test('a change that becomes counts beside what was before until it is complete', () => {
    expect(said(hoursOf('TAF KZZU 141120Z 1412/1512 1SM BECMG 1412/1414 P6SM'))).toEqual([
      '1SM 14T12:00 14T14:00',
      'P6SM 14T12:00 15T12:00',
    ]);
  });

  test('from a time on all that was before is over, also what the change does not state', () => {
    expect(said(hoursOf('TAF KZZU 141120Z 1412/1512 1SM FM141300 24008KT'))).toEqual(['1SM 14T12:00 14T13:00']);
  });

  test('a change that does not state the visibility leaves it', () => {
    expect(said(hoursOf('TAF KZZU 141120Z 1412/1512 1SM BECMG 1412/1414 24008KT'))).toEqual(['1SM 14T12:00 15T12:00']);
  });

  test('what comes and goes is on top', () => {
    expect(said(hoursOf('TAF KZZU 141120Z 1412/1512 P6SM TEMPO 1418/1424 2SM'))).toEqual([
      'P6SM 14T12:00 15T12:00',
      '2SM 14T18:00 15T00:00',
    ]);
  });

  test('an observation counts for ninety minutes from the beginning of the window', () => {
    expect(said(hoursOf('METAR KZZU 141255Z 10SM'))).toEqual(['10SM 14T13:40 14T15:10']);
    expect(said(hoursOf('METAR KZZU 141209Z 10SM'))).toEqual([]);
    expect(said(hoursOf('METAR KZZU 141411Z 10SM'))).toEqual([]);
  });
});

describe('whether hours leave no part of the window out', () => {
  const hour = (from: string, until: string) => ({
    from: at(`2026-06-14 ${from} Z`),
    until: at(`2026-06-14 ${until} Z`),
  });
  test.each([
    [[hour('13:00', '15:00')], true],
    [[hour('13:40', '14:10')], true],
    [[hour('14:00', '15:00'), hour('13:00', '14:00')], true],
    [[hour('13:00', '13:50'), hour('14:00', '15:00')], false],
    [[hour('13:41', '15:00')], false],
    [[], false],
  ])('case %#', (hours, whole) => {
    expect(cover(hours, WINDOW)).toBe(whole);
  });
});
