import { describe, expect, test } from 'vitest';
import { isZoneActive } from '../../server/src/facts/zone-active.ts';
import { boxAround } from '../../server/src/geo/box.ts';
import { type LonLat, lonLat, seconds } from '../../server/src/units/frames.ts';
import type { ActiveTime, Weekday, WeeklyTime, Zone } from '../../server/src/world/zone.ts';
import { WEEKDAYS } from '../../server/src/world/zone.ts';
import { readActive } from '../../server/src/world/zone-times.ts';
import { madePlan, worldWith } from './made-plan.ts';

const HERE = lonLat(-120.5, 47.5);
const RING = [lonLat(-120.6, 47.4), lonLat(-120.4, 47.4), lonLat(-120.4, 47.6)];
const BOX = boxAround(RING);

const zoneWith = (active: readonly ActiveTime[] | undefined): Zone => {
  if (BOX === undefined) throw new Error('no box');
  const shape = { kind: 'polygons', polygons: [[RING]] } as const;
  const zone: Zone = {
    id: 'z',
    name: 'Reed Bay',
    kind: 'restricted',
    shape,
    box: BOX,
    floor: 'surface',
    ceiling: 'unlimited',
  };
  return active === undefined ? zone : { ...zone, active };
};

/** `active`, `asleep`, or the reason why that cannot be told. */
const stateOf = (active: readonly ActiveTime[] | undefined, window: string, at: LonLat = HERE): string => {
  const [from = '', until = from] = window.split(' / ');
  const text = window === '' ? '' : `window: { from: ${from}, until: ${until} }\n`;
  const { tools } = madePlan(`${text}route:\n  - take-off: home\n`, worldWith([]));
  try {
    return isZoneActive(zoneWith(active), at, tools) ? 'active' : 'asleep';
  } catch (error) {
    return error instanceof Error ? error.message : 'thrown';
  }
};

const written = (...entries: readonly object[]): readonly ActiveTime[] | undefined => readActive(entries as never);

describe('a zone', () => {
  test('without times is always active, and needs no window for it', () => {
    expect(stateOf(undefined, '')).toBe('active');
  });

  test('with times needs the window', () => {
    expect(stateOf(written({ days: 'ANY', from: '00:00', until: '24:00', clock: 'UTC' }), '')).toMatch(/^the window/);
  });

  test('whose times are untold is active, and that is a gap, unless another time settles it', () => {
    const untold = { untold: 'as the range tells' };
    const window = '2026-06-14 06:40 -07:00 / 2026-06-14 07:10 -07:00';
    expect(stateOf(written(untold), window)).toBe(
      'zone Reed Bay is active as the range tells; it counts as active until that is known',
    );
    const span = { from: '2026-06-14 07:00 -07:00', until: '2026-06-14 08:00 -07:00' };
    expect(stateOf(written(untold, span), window)).toBe('active');
  });
});

describe('hours on days of the week', () => {
  // 2026-06-14 is a Sunday (proleptic Gregorian calendar; 1970-01-01 was a Thursday).
  const SUNDAY = '2026-06-14 06:40 -07:00 / 2026-06-14 07:10 -07:00';
  const hours = (days: unknown, from: string, until: string, clock = 'local') => written({ days, from, until, clock });

  test.each([
    ['inside', hours(['SUN'], '06:00', '22:00'), 'active'],
    ['another day', hours(['MON', 'TUE', 'WED', 'THU', 'FRI', 'SAT'], '00:00', '24:00'), 'asleep'],
    ['beginning when the window ends', hours(['SUN'], '07:10', '22:00'), 'asleep'],
    ['beginning a minute before the window ends', hours(['SUN'], '07:09', '22:00'), 'active'],
    ['ending when the window begins', hours(['SUN'], '05:00', '06:40'), 'asleep'],
    ['ending a minute after the window begins', hours(['SUN'], '05:00', '06:41'), 'active'],
    ['over midnight from the day before', hours(['SAT'], '22:00', '07:00'), 'active'],
    ['over midnight to the next day', hours(['SUN'], '22:00', '07:00'), 'asleep'],
    ['the whole day before', hours(['SAT'], '00:00', '24:00'), 'asleep'],
    ['in universal time', hours(['SUN'], '14:00', '15:00', 'UTC'), 'active'],
    ['in universal time, earlier', hours(['SUN'], '06:00', '08:00', 'UTC'), 'asleep'],
    ['at another offset', hours(['SUN'], '15:45', '16:00', '+02:00'), 'active'],
    ['a start at or after the end is the next day', hours(['SAT'], '06:50', '06:50'), 'active'],
  ])('%s', (_, active, state) => {
    expect(stateOf(active, SUNDAY)).toBe(state);
  });

  test('the days are those of the clock they are written by', () => {
    // Sunday 18:00 here is Monday 01:00 in universal time.
    const evening = '2026-06-14 18:00 -07:00 / 2026-06-14 18:30 -07:00';
    expect(stateOf(hours(['MON'], '00:00', '02:00', 'UTC'), evening)).toBe('active');
    expect(stateOf(hours(['SUN'], '00:00', '02:00', 'UTC'), evening)).toBe('asleep');
  });

  test('only between since and before', () => {
    const of = (since: string, before: string) =>
      stateOf(written({ days: 'ANY', from: '06:00', until: '22:00', clock: 'local', since, before }), SUNDAY);
    expect(of('2026-06-01 00:00 Z', '2026-07-01 00:00 Z')).toBe('active');
    expect(of('2026-06-14 07:10 -07:00', '2026-07-01 00:00 Z')).toBe('asleep');
    expect(of('2026-06-01 00:00 Z', '2026-06-14 06:40 -07:00')).toBe('asleep');
  });

  test('a window in universal time leaves local hours open only near their ends', () => {
    const morning = '2026-06-14 13:40 Z / 2026-06-14 14:10 Z';
    expect(stateOf(hours(['SUN'], '12:00', '22:00'), morning)).toBe('asleep');
    expect(stateOf(hours(['SUN'], '01:00', '22:00'), morning)).toBe('active');
    expect(stateOf(hours(['SUN'], '07:00', '22:00'), morning)).toMatch(/hours of its local time/);
    expect(stateOf(hours(['SUN'], '07:00', '22:00'), '2026-06-14 15:40 +02:00 / 2026-06-14 16:10 +02:00')).toMatch(
      /hours of its local time/,
    );
  });

  test('a window of years is answered at once', () => {
    expect(stateOf(hours(['SUN'], '07:00', '22:00'), '1990-01-01 00:00 -07:00 / 2190-01-01 00:00 -07:00')).toBe(
      'active',
    );
  });

  test('agree with counting the minutes of a week', () => {
    for (let n = 0; n < 60; n++) {
      const from = (n * 577) % 1440;
      const until = (n * 911 + 300) % 1440;
      const days = WEEKDAYS.filter((_, i) => (n * 7 + i * 3) % 5 < 2);
      const weekly: WeeklyTime = {
        days,
        from: { clock: seconds(from * 60), offsetMinutes: 120 },
        until: { clock: seconds(until * 60), offsetMinutes: 120 },
      };
      const minute = (n * 1231) % 10_080;
      const length = 1 + ((n * 37) % 400);
      // Minutes of the week from Monday 00:00; 2026-06-15 is a Monday.
      const isOn = (at: number): boolean => {
        const ofDay = at % 1440;
        const today: Weekday | undefined = WEEKDAYS[Math.floor(at / 1440) % 7];
        const before = WEEKDAYS[(Math.floor(at / 1440) + 6) % 7];
        const has = (day: Weekday | undefined): boolean => day !== undefined && days.includes(day);
        if (from < until) return has(today) && ofDay >= from && ofDay < until;
        return (has(today) && ofDay >= from) || (has(before) && ofDay < until);
      };
      let expected = false;
      for (let at = minute; at < minute + length; at++) expected ||= isOn(at % 10_080);
      const say = (at: number): string => {
        const day = 15 + Math.floor(at / 1440);
        return `2026-06-${day} ${String(Math.floor((at % 1440) / 60)).padStart(2, '0')}:${String(at % 60).padStart(2, '0')} +02:00`;
      };
      const state = stateOf([{ weekly: [weekly] }], `${say(minute)} / ${say(minute + length)}`, lonLat(10, 47));
      expect(state, `${n}`).toBe(expected ? 'active' : 'asleep');
    }
  });
});

describe('hours by the sun', () => {
  // U.S. Naval Observatory, Oslo 59.9139 N 10.7522 E, 2025-06-21 in universal time: civil twilight begins 00:10, sunrise
  // 01:54, sunset 20:44, civil twilight ends 22:28; printed to the minute.
  const OSLO = lonLat(10.7522, 59.9139);
  const at = (from: string, until: string, clock: string, date = '2025-06-21', place = OSLO): string =>
    stateOf(
      written({ days: 'ANY', from, until }),
      `${date} ${clock} Z / ${date} ${clock.replace(/\d$/, '1')} Z`,
      place,
    );

  test.each([
    ['sunrise', 'sunset', '01:50', 'asleep'],
    ['sunrise', 'sunset', '02:00', 'active'],
    ['sunrise', 'sunset', '20:40', 'active'],
    ['sunrise', 'sunset', '20:50', 'asleep'],
    ['morning twilight', 'evening twilight', '00:00', 'asleep'],
    ['morning twilight', 'evening twilight', '00:20', 'active'],
    ['morning twilight', 'evening twilight', '22:20', 'active'],
    ['morning twilight', 'evening twilight', '22:40', 'asleep'],
    ['sunset', 'sunrise', '01:40', 'active'],
    ['sunset', 'sunrise', '02:00', 'asleep'],
    ['sunset', 'sunrise', '21:00', 'active'],
  ])('from %s until %s at %s', (from, until, clock, state) => {
    expect(at(from, until, clock)).toBe(state);
  });

  test('where the sun stays up, day is the whole day and there is no night; where it stays down, the other way round', () => {
    // U.S. Naval Observatory, 70 N 0 E: up all day on 2025-06-21, down all day on 2025-12-21 with civil twilight 09:55-14:02.
    const north = lonLat(0, 70);
    for (const clock of ['00:10', '06:00', '12:00', '23:50']) {
      expect(at('sunrise', 'sunset', clock, '2025-06-21', north)).toBe('active');
      expect(at('sunset', 'sunrise', clock, '2025-06-21', north)).toBe('asleep');
      expect(at('sunrise', 'sunset', clock, '2025-12-21', north)).toBe('asleep');
      expect(at('sunset', 'sunrise', clock, '2025-12-21', north)).toBe('active');
    }
    expect(at('morning twilight', 'evening twilight', '12:00', '2025-12-21', north)).toBe('active');
    expect(at('morning twilight', 'evening twilight', '09:40', '2025-12-21', north)).toBe('asleep');
  });

  test('a sunset in the next day of universal time belongs to its own day', () => {
    // 2026-06-14 is a Sunday; the sun sets here about 20:55 by local time, on Monday in universal time.
    const days = (day: string) => written({ days: [day], from: 'sunrise', until: 'sunset' });
    const evening = '2026-06-14 20:00 -07:00 / 2026-06-14 20:10 -07:00';
    expect(stateOf(days('SUN'), evening)).toBe('active');
    expect(stateOf(days('MON'), evening)).toBe('asleep');
  });
});
