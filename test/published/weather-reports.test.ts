import { describe, expect, test } from 'vitest';
import { decodeReport } from '../../server/src/host/weather/decode-report.ts';
import { LENGTH_UNITS, SPEED_UNITS } from '../../server/src/units/convert.ts';
import type { WeatherReport } from '../../server/src/world/weather-report.ts';

const MILE = LENGTH_UNITS.mi;
const KNOT = SPEED_UNITS.kt;
const FOOT = LENGTH_UNITS.ft;

const read = (text: string): WeatherReport => {
  const decoded = decodeReport(text);
  if ('refused' in decoded) throw new Error(`${decoded.name} ${decoded.refused}`);
  return decoded.report;
};

const near = (value: number): unknown => expect.closeTo(value, 6);
const exactly = (metres: number): unknown => ({ least: near(metres), most: near(metres) });
const cloud = (feet: number): unknown => ({ kind: 'cloud', height: near(feet * FOOT) });

describe('reports of handbooks and examinations', () => {
  test('FAA remote pilot study guide: wind, gust, three quarters of a mile, broken at 800 ft', () => {
    const { base, unread, issued } = read(
      'METAR KGGG 161753Z AUTO 14021G26KT 3/4SM +TSRA BR BKN008 OVC012CB 18/17 A2970 RMK PRESFR',
    );
    expect(issued).toEqual({ day: 16, minutes: 17 * 60 + 53 });
    expect(base.wind?.value).toEqual({ from: 140, speed: near(21 * KNOT), gust: near(26 * KNOT) });
    expect(base.visibility?.value).toEqual(exactly(0.75 * MILE));
    expect(base.cloud?.value).toEqual(cloud(800));
    expect(base.temperature?.value).toBe(18);
    expect(base.qnh?.value).toBeCloseTo(29.7 * 3386.389, 6);
    expect(unread).toEqual([]);
  });

  test('FAA-H-8083-28 chapter 24: a varying wind, a runway range, a ceiling of 1,000 ft', () => {
    const { base, unread } = read(
      'METAR KOKC 011955Z AUTO 22015G25KT 180V250 3/4SM R17L/2600FT +TSRA BR OVC010CB 18/16 A2992 RMK AO2 TSB25 TS OHD MOV E SLP132',
    );
    expect(base.wind?.value).toEqual({ speed: near(15 * KNOT), gust: near(25 * KNOT) });
    expect(base.visibility?.value).toEqual(exactly(0.75 * MILE));
    expect(base.cloud?.value).toEqual(cloud(1000));
    expect(unread).toEqual([]);
  });

  test('FAA airman knowledge testing: one and a half miles, overcast at 700 ft', () => {
    const { base } = read('SPECI KMDW 121856Z 32005KT 1 1/2SM RA OVC007 17/16 A2980 RMK RAB35');
    expect(base.visibility?.value).toEqual(exactly(1.5 * MILE));
    expect(base.cloud?.value).toEqual(cloud(700));
  });

  test('a hidden sky is a cloud at its vertical visibility', () => {
    const { base } = read('METAR KZZU 151953Z AUTO 09007KT 1/4SM FG VV002 18/18 A3010 RMK AO1');
    expect(base.visibility?.value).toEqual(exactly(0.25 * MILE));
    expect(base.cloud?.value).toEqual(cloud(200));
  });

  test('of several layers the lowest counts, be it a few clouds', () => {
    expect(read('METAR KZZU 151254Z 27015G22KT 10SM FEW045 SCT250 22/10 A3002').base.cloud?.value).toEqual(cloud(4500));
  });

  test('9999 is ten kilometres or more', () => {
    const { base } = read('METAR EGZZ 241850Z 25012KT 9999 SCT030 14/09 Q1013 NOSIG');
    expect(base.visibility?.value).toEqual({ least: 10_000 });
    expect(base.qnh?.value).toBe(101_300);
  });
});

/** WMO No. 306, FM 15 and FM 51, and FAA-H-8083-28 chapter 24, from memory. */
describe('single groups', () => {
  const baseOf = (group: string) => read(`METAR KZZU 010000Z ${group}`).base;
  const unreadOf = (group: string) => read(`METAR KZZU 010000Z ${group}`).unread.map(({ of, why }) => `${of} ${why}`);

  test.each([
    ['P6SM', { least: near(6 * MILE) }],
    ['M1/4SM', { least: 0, most: near(MILE / 4) }],
    ['M1/8SM', { least: 0, most: near(MILE / 8) }],
    ['2 1/4SM', exactly(2.25 * MILE)],
    ['10SM', exactly(10 * MILE)],
    ['0000', { least: 0, most: 50 }],
    ['0350', exactly(350)],
    ['9999NDV', { least: 10_000 }],
    ['CAVOK', { least: 10_000 }],
    ['8000 2000SW', exactly(2000)],
  ])('the visibility %s', (group, expected) => {
    expect(baseOf(group).visibility?.value).toEqual(expected);
    expect(unreadOf(group)).toEqual([]);
  });

  test.each([
    ['VV002', cloud(200)],
    ['///015', cloud(1500)],
    ['SCT000', cloud(0)],
    ['FEW025TCU', cloud(2500)],
    ['BKN037///', cloud(3700)],
    ['OVC012CB BKN008', cloud(800)],
    ['CLR', { kind: 'none below', height: near(12_000 * FOOT) }],
    ['CAVOK', { kind: 'none below', height: near(5000 * FOOT) }],
    ['NSC', { kind: 'none below', height: near(5000 * FOOT) }],
  ])('the cloud %s', (group, expected) => {
    expect(baseOf(group).cloud?.value).toEqual(expected);
    expect(unreadOf(group)).toEqual([]);
  });

  test.each([
    ['24015G25MPS', { from: 240, speed: 15, gust: 25 }],
    ['27036KMH', { from: 270, speed: near(10) }],
    ['VRB02G20KT', { speed: near(2 * KNOT), gust: near(20 * KNOT) }],
    ['270P99KT', { from: 270, speed: near(99 * KNOT) }],
    ['27015GP99KT', { from: 270, speed: near(15 * KNOT), gust: near(99 * KNOT) }],
    ['00000KT', { from: 0, speed: 0 }],
  ])('the wind %s', (group, expected) => {
    expect(baseOf(group).wind?.value).toEqual(expected);
    expect(unreadOf(group)).toEqual([]);
  });

  test.each([
    ['////', 'visibility not measured'],
    ['/////KT', 'wind not measured'],
    ['//////', 'cloud not measured'],
    ['BKN///', 'cloud not measured'],
    ['VV///', 'cloud not measured'],
    ['A////', 'qnh not measured'],
    ['11/2SM', 'visibility not understood'],
    ['26026G40', 'wind not understood'],
    ['BKN037AAA', 'cloud not understood'],
    ['HELLO', 'anything not understood'],
  ])('%s gives nothing, and that is told', (group, told) => {
    expect(baseOf(group)).toEqual({});
    expect(unreadOf(group)).toEqual([told]);
  });

  test.each([
    ['+TSRA', 'a thunderstorm'],
    ['VCTS', 'a thunderstorm'],
    ['-FZDZ', 'freezing rain, drizzle or fog'],
    ['+FC', 'a funnel cloud'],
    ['SHGS', 'hail or ice pellets'],
    ['BKN030TCU', 'thunderclouds'],
  ])('the hazard %s', (group, expected) => {
    expect(baseOf(group).hazard?.value).toBe(expected);
  });

  test.each(['RETS', '-RASN', 'DRSN', 'BR', 'NSW', 'AUTO', 'SKC', 'VCSH', 'BLDU', 'FEW025'])(
    '%s is no hazard',
    (group) => {
      expect(baseOf(group).hazard).toBeUndefined();
    },
  );

  test('M05 is below zero, and a missing dew point does not take the temperature along', () => {
    expect(baseOf('M05/M10').temperature?.value).toBe(-5);
    expect(baseOf('18/').temperature?.value).toBe(18);
    expect(baseOf('18///').temperature?.value).toBe(18);
  });

  test('remarks give the tenths of a temperature and nothing else', () => {
    const { base, unread } = read('METAR KZZU 010000Z 10SM CLR 16/05 A2970 RMK AO2 SLP176 T01560050 1/4SM');
    expect(base.temperature?.value).toBe(15.6);
    expect(base.visibility?.value).toEqual(exactly(10 * MILE));
    expect(unread).toEqual([]);
  });

  test('the trend behind an observation is no observation', () => {
    const { base } = read('METAR EGZZ 231250Z 14012KT 2000 BKN008 18/17 Q1010 TEMPO 1000 -SHRA BKN002');
    expect(base.visibility?.value).toEqual(exactly(2000));
    expect(base.cloud?.value).toEqual(cloud(800));
  });
});

describe('a forecast', () => {
  test('has changes of three kinds, each with its hours and its name', () => {
    const { base, changes, valid, unread } = read(
      'TAF KZZU 292025Z 2921/3103 VRB03KT 9999 FEW020 TX20/3014Z TN06/3003Z PROB30 TEMPO 2921/2923 SHRA BECMG 3001/3004 4000 MIFG NSC PROB40 3003/3007 1500 SCT004 FM301200 10008KT P6SM OVC010',
    );
    expect(valid).toEqual({ from: { day: 29, minutes: 1260 }, until: { day: 31, minutes: 180 } });
    expect(base.wind?.value).toEqual({ speed: near(3 * KNOT) });
    expect(changes.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'passing PROB30 TEMPO 2921/2923',
      'becoming BECMG 3001/3004',
      'passing PROB40 3003/3007',
      'from FM301200',
    ]);
    expect(changes.map(({ conditions }) => conditions.visibility?.group)).toEqual([undefined, '4000', '1500', 'P6SM']);
    expect(unread).toEqual([]);
  });

  test('is not mixed up where a line break was pasted as two characters', () => {
    const { changes } = read(
      'TAF KZZU 300939Z 3010/3022 VRB03KT 6SM OVC015 TEMPO 3010/3012 2SM OVC009 \\nFM301200 10008KT P6SM OVC010',
    );
    expect(changes.map(({ name, conditions }) => `${name} ${conditions.visibility?.group}`)).toEqual([
      'TEMPO 3010/3012 2SM',
      'FM301200 P6SM',
    ]);
  });

  test('that was cancelled, that holds nothing, or without hours is refused', () => {
    const refused = (text: string) => {
      const decoded = decodeReport(text);
      return 'refused' in decoded ? decoded.refused : undefined;
    };
    expect(refused('TAF KZZU 281000Z 2812/2912 CNL=')).toContain('cancelled');
    expect(refused('TAF KZZU 281000Z NIL=')).toContain('holds nothing');
    expect(refused('TAF KZZU 281000Z 24010KT P6SM')).toContain('from when until when');
    expect(refused('METAR KZZU 321000Z 24010KT')).toContain('a time that no day has');
    expect(refused('METAR AUTO 061950Z 10002KT 9999')).toContain('names no station');
    expect(refused(`METAR KZZU 010000Z ${'10SM '.repeat(2000)}`)).toBe('is longer than any report');
    expect(refused('')).toContain('does not begin as a METAR or a TAF does');
  });
});
