import { describe, expect, test } from 'vitest';
import { readPosition, readPositionParts, sayPositionIn } from '../../server/src/plan/scalars/position.ts';
import { readDate, readDateOrTime, readTime } from '../../server/src/plan/scalars/time.ts';

const LAT = 47 + 30 / 60 + 7.6 / 3600;
const LON = -(120 + 28 / 60 + 52.7 / 3600);

describe('a position is latitude, then longitude', () => {
  test.each([
    ['47.5021, -120.4813', 47.5021, -120.4813, 4],
    ['  47.5021 ,-120.4813 ', 47.5021, -120.4813, 4],
    ['47.5021; -120.4813', 47.5021, -120.4813, 4],
    ['47.5021 -120.4813', 47.5021, -120.4813, 4],
    ['47, 8', 47, 8, 0],
    ['-0, 0', 0, 0, 0],
    ['90, 180', 90, 180, 0],
    ['-90, -180', -90, -180, 0],
    ['47.5021 N, 120.4813 W', 47.5021, -120.4813, 4],
    ['47.5021n 120.4813w', 47.5021, -120.4813, 4],
    ['N 47.5021, W 120.4813', 47.5021, -120.4813, 4],
    ['120.4813 W, 47.5021 N', 47.5021, -120.4813, 4],
    ['33.5 S, 151.2 E', -33.5, 151.2, 1],
    ['47°30\'07.6"N 120°28\'52.7"W', LAT, LON, 5],
    ['47°30′07.6″ N, 120°28′52.7″ W', LAT, LON, 5],
    ['47º30’07.6”N 120º28’52.7”W', LAT, LON, 5],
    ["47°30'07.6''N 120°28'52.7''W", LAT, LON, 5],
    ['47 30 07.6 N, 120 28 52.7 W', LAT, LON, 5],
    ['47 30 07.6, -120 28 52.7', LAT, LON, 5],
    ['N47°30\'07.6" W120°28\'52.7"', LAT, LON, 5],
    ["47°30.126'N 120°28.878'W", 47.5021, -120.4813, 5],
    ["47°30.126' -120°28.878'", 47.5021, -120.4813, 5],
    ["47°30.126' 120°28.878'", 47.5021, 120.4813, 5],
    ['473007.6N 1202852.7W', LAT, LON, 5],
    ['4730N 12030W', 47.5, -120.5, 2],
    ['-0 30, 8', -0.5, 8, 2],
  ])('%j is read', (text, lat, lon, decimals) => {
    const read = readPosition(text);
    expect(read).toMatchObject({ ok: true, decimals });
    if (!read.ok) return;
    expect(read.value.lat).toBeCloseTo(lat, 10);
    expect(read.value.lon).toBeCloseTo(lon, 10);
  });

  test.each([
    ['47,5021, -120,4813', '47.5021, -120.4813'],
    ['47,5021; 8,4813', '47.5021; 8.4813'],
    ['47,5021,8,4813', '47.5021, 8.4813'],
    ['47,5021 8,4813', '47.5021, 8.4813'],
    ['47,5021 N 8,4813 E', '47.5021 N 8.4813 E'],
    ['47.5021 8.4813', '47.5021, 8.4813'],
    ['47 8', undefined],
    ['', undefined],
    ['home', undefined],
    ['47.5021', undefined],
    ['47.5021, -120.4813, 60', undefined],
    ['47.5021,, 8', undefined],
    ['47.5 - 8.4', undefined],
    ['-47.5 N, 8 E', undefined],
    ['47.5 N, 8', undefined],
    ['47.5 N, 8 S', undefined],
    ['47 60 00 N, 8 00 00 E', undefined],
    ['47 00 60 N, 8 00 00 E', undefined],
    ['47.5 30 N, 8 E', undefined],
    ["47'30 N, 8 E", undefined],
    ['.nan, .inf', undefined],
    ['1e1, 5', undefined],
    ['0x2F, 8', undefined],
    ['47.5O21, 8', undefined],
    ['47.5, 8'.padEnd(100_000, ' '), undefined],
  ])('%.40j cannot be read; %j is offered', (text, mended) => {
    const read = readPosition(text);
    expect(read).toMatchObject({ ok: false, slip: { kind: 'position-unreadable', text } });
    expect(!read.ok && 'mended' in read.slip ? read.slip.mended : undefined).toBe(mended);
  });

  test.each([
    ['-120.4813, 47.5021', '47.5021, -120.4813', 47.5021, -120.4813],
    ['120.4813 N, 47.5021 W', '47.5021 N, 120.4813 W', 47.5021, -120.4813],
    ['120°28\'52.7", 47°30\'07.6"', '47°30\'07.6", 120°28\'52.7"', LAT, -LON],
  ])('%j has its halves in each other’s place', (text, mended, lat, lon) => {
    const read = readPosition(text);
    expect(read).toMatchObject({ slip: { kind: 'position-out-of-range', text, mended } });
    if (read.ok || read.slip.kind !== 'position-out-of-range') return;
    expect(read.slip.swapped?.lat).toBeCloseTo(lat, 10);
    expect(read.slip.swapped?.lon).toBeCloseTo(lon, 10);
  });

  test('what lies beyond the earth either way has no mended text', () => {
    expect(readPosition('200, 300')).toEqual({
      ok: false,
      slip: { kind: 'position-out-of-range', text: '200, 300', reason: 'latitude 200 lies beyond 90 degrees' },
    });
    expect(readPosition('0, 180.001')).toMatchObject({ slip: { reason: 'longitude 180.001 lies beyond 180 degrees' } });
  });

  test('latitude and longitude may stand in scalars of their own', () => {
    expect(readPositionParts({ lat: '47.5021', lon: '-120.4813' })).toMatchObject({
      ok: true,
      value: { lat: 47.5021, lon: -120.4813 },
      decimals: 4,
    });
    expect(readPositionParts({ lat: '47.5 N', lon: '8 E' })).toMatchObject({ ok: true, value: { lat: 47.5, lon: 8 } });
  });

  test.each([
    [{ lat: '47,5021', lon: '8' }, 'lat', 'position-unreadable', '47.5021'],
    [{ lat: '47', lon: '8,5' }, 'lon', 'position-unreadable', '8.5'],
    [{ lat: '47 E', lon: '8' }, 'lat', 'position-unreadable', undefined],
    [{ lat: '47 N', lon: '120.4' }, 'lon', 'position-unreadable', undefined],
    [{ lat: '', lon: '8' }, 'lat', 'position-unreadable', undefined],
    [{ lat: '47, 8', lon: '8' }, 'lat', 'position-unreadable', undefined],
    [{ lat: '200', lon: '8' }, 'lat', 'position-out-of-range', undefined],
    [{ lat: '20', lon: '181' }, 'lon', 'position-out-of-range', undefined],
  ])('of %j the half that is to blame is named', (parts, part, kind, mended) => {
    const read = readPositionParts(parts);
    expect(read).toMatchObject({ ok: false, part, slip: { kind } });
    expect(!read.ok && 'mended' in read.slip ? read.slip.mended : undefined).toBe(mended);
  });

  test('halves in each other’s place come back swapped', () => {
    expect(readPositionParts({ lat: '-120.4813', lon: '47.5021' })).toMatchObject({
      part: 'lat',
      slip: { swapped: { lat: 47.5021, lon: -120.4813 } },
      swappedParts: { lat: '47.5021', lon: '-120.4813' },
    });
  });

  test('a position is written with as many decimals as it was read with', () => {
    const read = readPosition('47.5021, -120.4813');
    expect(read.ok && sayPositionIn(read.value, read.decimals)).toBe('47.5021, -120.4813');
  });
});

describe('a time has a date, hours and minutes, and an offset', () => {
  test.each([
    ['2026-06-14 06:40 -07:00', '2026-06-14T13:40:00Z', -420],
    ['2026-06-14T06:40-07:00', '2026-06-14T13:40:00Z', -420],
    ['2026-06-14t06:40:30z', '2026-06-14T06:40:30Z', 0],
    ['2026-06-14 06:40:30.25 Z', '2026-06-14T06:40:30.250Z', 0],
    ['2026-06-14 06:40 -0700', '2026-06-14T13:40:00Z', -420],
    ['2026-06-14 06:40 -07', '2026-06-14T13:40:00Z', -420],
    ['2026-06-14 06:40 \u221207:00', '2026-06-14T13:40:00Z', -420],
    ['2026-06-14 06:40 UTC', '2026-06-14T06:40:00Z', 0],
    ['2026-06-14 06:40 -00:00', '2026-06-14T06:40:00Z', 0],
    ['2026-06-14 24:00 Z', '2026-06-15T00:00:00Z', 0],
    ['2026-12-31 23:30 +05:30', '2026-12-31T18:00:00Z', 330],
    ['2026-01-01 00:00 +14:00', '2025-12-31T10:00:00Z', 840],
    ['2024-02-29 12:00 Z', '2024-02-29T12:00:00Z', 0],
  ])('%j is read', (text, utc, offsetMinutes) => {
    // The machine's own calendar is the reference here.
    expect(readTime(text)).toEqual({ ok: true, value: { at: Date.parse(utc), offsetMinutes } });
  });

  test.each([
    ['2026-06-14 06:40', 'the offset from UTC is missing, such as -07:00, or Z for UTC', undefined],
    ['2026-06-14', 'the time of day and the offset from UTC are missing, such as 06:40 -07:00', undefined],
    ['2026-02-30 06:40 Z', 'there is no 2026-02-30; that month has 28 days', undefined],
    ['2025-02-29 06:40 Z', 'there is no 2025-02-29; that month has 28 days', undefined],
    ['2026-13-01 06:40 Z', 'there is no month 13', undefined],
    ['2026-00-01 06:40 Z', 'there is no month 00', undefined],
    ['0026-06-14 06:40 Z', 'the year 0026 lies outside 1900 to 2199', undefined],
    ['2026-06-14 25:00 Z', 'there is no hour 25', undefined],
    ['2026-06-14 24:01 Z', 'the day ends at 24:00', undefined],
    ['2026-06-14 06:60 Z', 'there is no minute 60', undefined],
    ['2026-06-14 06:40:60 Z', 'there is no second 60', undefined],
    ['2026-06-14 06:40 +15:00', 'offsets from UTC lie between -12:00 and +14:00', undefined],
    ['2026-06-14 06:40 +05:75', 'an offset from UTC has no 75 minutes', undefined],
    ['2026-06-14 06:40 PDT', '"PDT" is not an offset from UTC such as -07:00, or Z for UTC', undefined],
    ['04/05/2026 06:40 Z', 'a date is written year-month-day, such as 2026-06-14', undefined],
    ['tomorrow', 'a date is written year-month-day, such as 2026-06-14', undefined],
    ['', 'a date is written year-month-day, such as 2026-06-14', undefined],
  ])('%j cannot be read: %s', (text, reason, mended) => {
    const slip = { kind: 'time-unreadable', text, reason, ...(mended === undefined ? {} : { mended }) };
    expect(readTime(text)).toEqual({ ok: false, slip });
  });

  test.each([
    ['2026/06/14 06:40 -07:00', '2026-06-14 06:40 -07:00'],
    ['14.06.2026 06:40 Z', '2026-06-14 06:40 Z'],
    ['06/14/2026 6:40 am -7', '2026-06-14 06:40 -07:00'],
    ['06/06/2026 12:15 pm -7', '2026-06-06 12:15 -07:00'],
    ['06/06/2026 12:15 am -7', '2026-06-06 00:15 -07:00'],
    ['14 June 2026, 06:40 UTC', '2026-06-14 06:40 Z'],
    ['June 14th, 2026 at 6pm Z', '2026-06-14 18:00 Z'],
    ['20260614T0640Z', '2026-06-14 06:40 Z'],
    ['2026-6-14 6:40 UTC-7', '2026-06-14 06:40 -07:00'],
    ['2026-06-14 0640 -07:00', '2026-06-14 06:40 -07:00'],
    ['2026-06-14 06.40 -07:00', '2026-06-14 06:40 -07:00'],
    ['2026/02/30 06:40 Z', undefined],
    ['2026/06/14 06:40', undefined],
    ['04/05/2026 06:40 Z', undefined],
  ])('%j is offered as %j', (text, mended) => {
    const read = readTime(text);
    expect(read.ok).toBe(false);
    expect(!read.ok && 'mended' in read.slip ? read.slip.mended : undefined).toBe(mended);
    if (mended !== undefined) expect(readTime(mended).ok).toBe(true);
  });

  test('a date is a day of the calendar', () => {
    expect(readDate(' 2026-06-14 ')).toEqual({ ok: true, value: { year: 2026, month: 6, day: 14 } });
    expect(readDate('14.06.2026')).toMatchObject({ slip: { mended: '2026-06-14' } });
    expect(readDate('2026-06-14 06:40 Z')).toMatchObject({ slip: { mended: '2026-06-14' } });
    expect(readDate('2026-02-30 06:40 Z')).toMatchObject({ slip: { kind: 'time-unreadable' } });
  });

  test('where either may stand, what goes on after the date is a time', () => {
    expect(readDateOrTime('2026-06-14')).toEqual({ ok: true, value: { date: { year: 2026, month: 6, day: 14 } } });
    expect(readDateOrTime('2026-06-14 06:40 Z')).toMatchObject({ ok: true, value: { time: { offsetMinutes: 0 } } });
    expect(readDateOrTime('2026-06-14 06:40')).toMatchObject({ ok: false });
    expect(readDateOrTime('14 June 2026')).toMatchObject({ slip: { mended: '2026-06-14' } });
  });
});
