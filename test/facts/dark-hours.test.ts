import { describe, expect, test } from 'vitest';
import {
  civilNightHours,
  type DarkHours,
  nightHoursByEither,
  sunDownHours,
} from '../../server/src/facts/dark-hours.ts';
import type { Fact } from '../../server/src/facts/fact.ts';
import { CIVIL_TWILIGHT_ALTITUDE, SUNRISE_ALTITUDE, sunAltitude } from '../../server/src/geo/sun.ts';
import type { Plan } from '../../server/src/plan/model.ts';
import { sayRfc3339, startOfDay } from '../../server/src/units/calendar.ts';
import { type Instant, instant, lonLat } from '../../server/src/units/frames.ts';
import { seeded } from '../support/random.ts';
import { madePlan, worldWith } from './made-plan.ts';

const MINUTE = 60_000;
const HALF_HOUR = 30 * MINUTE;

const SUMMER = '{ from: 2026-06-14 20:00 -07:00, until: 2026-06-14 20:30 -07:00 }';
const LATE = '{ from: 2026-06-14 20:00 -07:00, until: 2026-06-14 20:58 -07:00 }';

const route = (...places: readonly string[]): string =>
  `route:\n${places.map((at, i) => `  - point: p${i}\n    at: ${at}\n    altitude: 60 m AGL\n`).join('')}`;

const hoursOf = (fact: Fact<Plan, DarkHours>, window: string, body: string): DarkHours => {
  const { plan, tools } = madePlan(`country: US\nwindow: ${window}\n${body}`, worldWith([]));
  return tools.ask(fact, plan);
};

describe('the dark part of a window', () => {
  test('is judged at the place where most of it lies: at dusk the eastern one', () => {
    const dark = hoursOf(
      sunDownHours,
      '{ from: 2026-06-14 20:00 -07:00, until: 2026-06-14 21:20 -07:00 }',
      route('47.5, -120.5', '47.5, -120.0'),
    );
    expect(dark.where).toBe('p1');
  });

  test('is judged at the western place at dawn', () => {
    const dark = hoursOf(
      sunDownHours,
      '{ from: 2026-06-14 04:30 -07:00, until: 2026-06-14 06:00 -07:00 }',
      route('47.5, -120.5', '47.5, -120.0'),
    );
    expect(dark.where).toBe('p0');
  });

  test('of an area reaches as far as the edge of its outline', () => {
    const area =
      'route:\n  - area: wide\n    inside: { circle: 20 km, around: { lat: 47.5, lon: -120.5 } }\n    from: 5 m AGL\n    to: 40 m AGL\n    for: 4 min\n';
    const window = '{ from: 2026-06-14 20:00 -07:00, until: 2026-06-14 21:20 -07:00 }';
    const [wide] = hoursOf(sunDownHours, window, area).stretches;
    const [point] = hoursOf(sunDownHours, window, route('47.5, -120.5')).stretches;
    // 20 km are 16 arc minutes of longitude at this latitude, and the sun moves one in four seconds.
    expect((point?.from ?? 0) - (wide?.from ?? 0)).toBeGreaterThan(55_000);
  });

  test('needs no place of an item that could not be read as long as the sun is high enough for a hundred kilometres', () => {
    expect(hoursOf(sunDownHours, SUMMER, route('47.5, -120.5', 'nowhere')).lacking).toEqual([]);
  });

  test('lacks that place where the sun is less than a degree above the limit', () => {
    const dark = hoursOf(sunDownHours, LATE, route('47.5, -120.5', 'nowhere'));
    expect(dark.stretches).toEqual([]);
    expect(dark.lacking.map(({ missing }) => missing)).toEqual([expect.stringContaining('position of p1')]);
  });

  test('is not assessed without any place, nor outside the years of the series', () => {
    expect(() => hoursOf(sunDownHours, SUMMER, route('nowhere'))).toThrow('no place of the plan is known');
    expect(() =>
      hoursOf(sunDownHours, '{ from: 2026-06-14 20:00 Z, until: 2150-06-14 20:30 Z }', route('47.5, -120.5')),
    ).toThrow('for the years 1900 to 2100 only');
  });

  test('of a window of seventy years is found without looking at all of them', () => {
    const dark = hoursOf(civilNightHours, '{ from: 2026-06-14 20:00 Z, until: 2096-06-14 20:30 Z }', route('0, 100'));
    expect(dark.stretches.length).toBe(2);
  });

  test('is none in a week of polar summer, and all of a week of polar winter', () => {
    const north = route('78.2, 15.6');
    const summer = '{ from: 2026-06-14 00:00 +02:00, until: 2026-06-21 00:00 +02:00 }';
    const winter = '{ from: 2026-12-14 00:00 +01:00, until: 2026-12-21 00:00 +01:00 }';
    expect(hoursOf(sunDownHours, summer, north).stretches).toEqual([]);
    const [all, more] = hoursOf(sunDownHours, winter, north).stretches;
    expect([all?.begins, all?.ends, more]).toEqual([undefined, undefined, undefined]);
    expect((all?.until ?? 0) - (all?.from ?? 0)).toBe(7 * 24 * 60 * MINUTE);
  });
});

/** A random place and a window of some hours in a random year, from near a pole to the equator. */
const randomCase = (random: () => number): { lat: number; lon: number; from: Instant; until: Instant } => {
  const day = startOfDay({ year: 1950 + Math.floor(random() * 120), month: 1, day: 1 }, 0);
  const from = instant(day + Math.floor(random() * 525_000) * MINUTE);
  return {
    lat: Math.round((random() * 176 - 88) * 1e4) / 1e4,
    lon: Math.round((random() * 360 - 180) * 1e4) / 1e4,
    from,
    until: instant(from + (10 + Math.floor(random() * 1200)) * MINUTE),
  };
};

const asWindow = (from: Instant, until: Instant): string =>
  `{ from: ${sayRfc3339(from)}, until: ${sayRfc3339(until)} }`;

/** Minutes of the window that lie in the dark, and those that a stretch says so of, apart from the edges. */
const disagreement = (
  dark: DarkHours,
  { from, until }: { from: Instant; until: Instant },
  isDark: (at: number) => boolean,
): readonly string[] => {
  const wrong: string[] = [];
  const whole = dark.stretches.length < 2 ? until : (dark.stretches[1]?.until ?? until);
  for (let at = from + 0; at <= whole; at += MINUTE) {
    const near = [at - 2 * MINUTE, at, at + 2 * MINUTE].map(isDark);
    if (near.some((each) => each !== near[1])) continue;
    const told = dark.stretches.some((each) => at >= each.from && at <= each.until);
    if (told !== near[1]) wrong.push(`${sayRfc3339(instant(at))} is ${told ? 'told' : 'not told'}`);
  }
  return wrong;
};

describe('looked at minute by minute, in 150 random places and years', () => {
  test('the sun is down where the search says so', () => {
    const random = seeded(7);
    for (let i = 0; i < 150; i++) {
      const { lat, lon, from, until } = randomCase(random);
      const place = lonLat(lon, lat);
      const dark = hoursOf(sunDownHours, asWindow(from, until), route(`${lat}, ${lon}`));
      const isDown = (at: number): boolean => sunAltitude(instant(at), place) < SUNRISE_ALTITUDE;
      expect([lat, lon, disagreement(dark, { from, until }, isDown)]).toEqual([lat, lon, []]);
    }
  });

  test('it is night by either reading where the search says so', () => {
    const random = seeded(11);
    for (let i = 0; i < 150; i++) {
      const { lat, lon, from, until } = randomCase(random);
      const place = lonLat(lon, lat);
      const dark = hoursOf(nightHoursByEither, asWindow(from, until), route(`${lat}, ${lon}`));
      const altitude = (at: number): number => sunAltitude(instant(at), place);
      // Twilight by the clock: the sun is down, and was or will be up within half an hour.
      const isDown = (at: number): boolean => altitude(at) < SUNRISE_ALTITUDE;
      const isTwilight = (at: number): boolean => {
        for (let step = 0; step <= HALF_HOUR; step += MINUTE) if (!isDown(at - step) || !isDown(at + step)) return true;
        return false;
      };
      const isNight = (at: number): boolean => altitude(at) < CIVIL_TWILIGHT_ALTITUDE || !isTwilight(at);
      expect([lat, lon, disagreement(dark, { from, until }, isNight)]).toEqual([lat, lon, []]);
    }
  });
});

test('a longer window never has less of the dark', () => {
  const random = seeded(13);
  for (let i = 0; i < 150; i++) {
    const { lat, lon, from, until } = randomCase(random);
    const body = route(`${lat}, ${lon}`);
    const shorter = hoursOf(sunDownHours, asWindow(from, until), body).stretches;
    const longer = hoursOf(sunDownHours, asWindow(instant(from - 17 * MINUTE), instant(until + 23 * MINUTE)), body);
    if (shorter.length > 0) expect(longer.stretches.length).toBeGreaterThan(0);
  }
});
