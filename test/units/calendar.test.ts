import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  dateAt,
  dateOfDays,
  daysBetween,
  daysInMonth,
  daysSince1970,
  endOfDay,
  sayDate,
  sayOffset,
  sayRfc3339,
  sayTime,
  sayTimeAndUtc,
  startOfDay,
} from '../../server/src/units/calendar.ts';
import { instant } from '../../server/src/units/frames.ts';

/** The machine's own calendar, which the project's code may not use, is the independent reference. */
const reference = (days: number): Date => new Date(days * 86_400_000);

describe('days and dates', () => {
  // Known days: RFC 3339 and POSIX count from 1970-01-01; 2000 was a leap year, 1900 and 2100 are not (Gregorian rule).
  test.each([
    [{ year: 1970, month: 1, day: 1 }, 0],
    [{ year: 1969, month: 12, day: 31 }, -1],
    [{ year: 2000, month: 2, day: 29 }, 11_016],
    [{ year: 2000, month: 3, day: 1 }, 11_017],
    [{ year: 2026, month: 6, day: 14 }, 20_618],
    [{ year: 1900, month: 3, day: 1 }, -25_508],
  ])('%o lies %i days after 1970-01-01', (date, days) => {
    expect(daysSince1970(date)).toBe(days);
    expect(dateOfDays(days)).toEqual(date);
  });

  test('the lengths of February follow the Gregorian rule', () => {
    expect([1900, 2000, 2023, 2024, 2100, 2400].map((year) => daysInMonth(year, 2))).toEqual([28, 29, 28, 29, 28, 29]);
  });

  test('the lengths of the other months', () => {
    expect([1, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12].map((month) => daysInMonth(2026, month))).toEqual([
      31, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31,
    ]);
  });

  test('10,000 random days agree with an independent calendar, both ways', () => {
    // 584,388 days before and after 1970 are the years 370 to 3569.
    fc.assert(
      fc.property(fc.integer({ min: -584_388, max: 584_388 }), (days) => {
        const there = reference(days);
        const date = dateOfDays(days);
        expect(date).toEqual({
          year: there.getUTCFullYear(),
          month: there.getUTCMonth() + 1,
          day: there.getUTCDate(),
        });
        expect(daysSince1970(date)).toBe(days);
      }),
      { numRuns: 10_000 },
    );
  });

  test('days between two dates', () => {
    const from = { year: 2024, month: 2, day: 28 };
    expect(daysBetween(from, { year: 2024, month: 3, day: 1 })).toBe(2);
    expect(daysBetween({ year: 2024, month: 3, day: 1 }, from)).toBe(-2);
  });
});

describe('days at an offset', () => {
  const date = { year: 2026, month: 6, day: 14 };

  test('a day begins and ends at its offset', () => {
    expect(startOfDay(date, -420)).toBe(Date.parse('2026-06-14T00:00:00-07:00'));
    expect(endOfDay(date, -420)).toBe(Date.parse('2026-06-15T00:00:00-07:00'));
    expect(endOfDay(date, 330)).toBe(Date.parse('2026-06-14T24:00:00+05:30'));
  });

  test('an instant falls on the day of its offset', () => {
    const at = instant(Date.parse('2026-06-14T23:30:00Z'));
    expect(dateAt(at, 0)).toEqual(date);
    expect(dateAt(at, 60)).toEqual({ ...date, day: 15 });
    expect(dateAt(at, -1440)).toEqual({ ...date, day: 13 });
  });
});

describe('times as text', () => {
  const at = instant(Date.parse('2026-06-14T13:40:25Z'));

  test('a time is said as it is written in a plan', () => {
    expect(sayTime({ at, offsetMinutes: -420 })).toBe('2026-06-14 06:40 -07:00');
    expect(sayTime({ at, offsetMinutes: 0 })).toBe('2026-06-14 13:40 Z');
    expect(sayTime({ at, offsetMinutes: 345 })).toBe('2026-06-14 19:25 +05:45');
  });

  test('beside it stands UTC, with the date where it differs', () => {
    expect(sayTimeAndUtc({ at, offsetMinutes: -420 })).toBe('2026-06-14 06:40 -07:00 (13:40 UTC)');
    expect(sayTimeAndUtc({ at, offsetMinutes: 720 })).toBe('2026-06-15 01:40 +12:00 (2026-06-14 13:40 UTC)');
    expect(sayTimeAndUtc({ at, offsetMinutes: 0 })).toBe('2026-06-14 13:40 UTC');
  });

  test('dates and offsets have all their digits', () => {
    expect(sayDate({ year: 987, month: 1, day: 2 })).toBe('0987-01-02');
    expect([0, -30, 60, -720, 840].map(sayOffset)).toEqual(['Z', '-00:30', '+01:00', '-12:00', '+14:00']);
  });

  test('times for machines agree with an independent calendar', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2_208_988_800, max: 7_258_118_399 }), (seconds) => {
        const there = new Date(seconds * 1000).toISOString();
        expect(sayRfc3339(instant(seconds * 1000))).toBe(there.replace('.000Z', 'Z'));
      }),
      { numRuns: 2000 },
    );
  });
});
