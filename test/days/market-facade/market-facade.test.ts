import { expect, test } from 'vitest';
import { circleAt, dayFeatures, dayTerrain } from '../../support/day-world.ts';
import { readProject } from '../../support/project.ts';
import { judgeDay, mutate, testDay, type WorkingDay } from '../../support/working-day.ts';

/** An invented square that falls a little to the south. */
const terrain = dayTerrain([10.1, 49.2], (_lon, lat) => 312 + 200 * (lat - 49.2));

const zones = dayFeatures(
  '2026-05-18T08:00:00Z',
  [
    circleAt(10.107, 49.2, '300 m', {
      id: 'hospital',
      name: 'Hospital helipad',
      kind: 'restricted',
      floor: 'surface',
      ceiling: '150 m AGL',
    }),
  ],
  { covers: [9.9, 49.0, 10.3, 49.4] },
);

const aircraft = (more: string): string => `aircraft: 1
name: siskin
kind: multirotor
size: 0.5 m
max-speed: 12 m/s
max-wind: 9 m/s
cruise-speed: 6 m/s
climb-rate: 3 m/s
descent-rate: 2 m/s
endurance: 26 min
battery: { nominal: 95 Wh, usable: 85 %, temperature: 16 C }
power: { hover: 190 W, cruise: [195 W at 6 m/s, 250 W at 12 m/s], climb: 240 W }
reserve: 25 %
registration: { number: DEUs7k2m9q4x1b5z }
remote-identification: { means: standard, serial: WAYW9SK0000021 }
lights: [{ colour: green, flashing: yes, visible: 3 km }]
${more}`;

const day: WorkingDay = {
  title: 'a facade in subcategory A2 beside people',
  plan: 'test/days/market-facade/facade.mission.yaml',
  now: '2026-05-19 18:00 +02:00',
  files: {
    'square.tif': terrain,
    'town-zones.geojson': zones,
    'siskin-c2.aircraft.yaml': aircraft('eu-class: C2\nmass: 2.2 kg\n'),
    'siskin-c3.aircraft.yaml': aircraft('eu-class: C3\nmass: 6.2 kg\n'),
  },
  expected: [],
  margins: {},
  mutants: [
    {
      because: 'a point above 120 m',
      search: 'altitude: 24 m AGL\n    leg: { speed: 0.6 m/s',
      replace: 'altitude: 124 m AGL\n    leg: { speed: 0.6 m/s',
      expected: [
        '? people-nearer-than-guidance',
        'caution climb-beyond-rate',
        'caution climb-beyond-rate',
        'caution people-nearer-than-guidance',
        'stop point-above-height-limit',
      ],
    },
    {
      because: 'a point over the market place',
      search: 'at: 49.20012, 10.10035',
      replace: 'at: 49.19932, 10.10035',
      expected: ['stop people-overflown'],
    },
    {
      because: 'people that stand nearer than 30 m',
      search: 'around: { lat: 49.19930, lon: 10.10060 }',
      replace: 'around: { lat: 49.19975, lon: 10.10050 }',
      expected: ['stop people-too-near'],
    },
    {
      because: 'a class that is not for A2',
      search: 'aircraft: siskin-c2.aircraft.yaml',
      replace: 'aircraft: siskin-c3.aircraft.yaml',
      expected: ['stop category-not-for-aircraft'],
    },
    {
      because: 'a proof that is not enough for A2',
      search: 'held: A2 certificate',
      replace: 'held: A1/A3 proof',
      expected: ['stop competency-missing'],
    },
    {
      because: 'a certificate of more than five years',
      search: 'tested: 2024-03-11',
      replace: 'tested: 2020-03-11',
      expected: ['stop competency-lapsed'],
    },
    {
      because: 'a point within the town hall',
      search: 'at: 49.20012, 10.09965',
      replace: 'at: 49.20028, 10.09995',
      expected: ['stop obstacle-struck', 'stop obstacle-struck'],
    },
    {
      because: 'a degree too far east, into the zone of the hospital',
      search: 'at: 49.20012, 10.10030',
      replace: 'at: 49.20012, 10.10330',
      expected: ['caution seen-beyond-guidance-range', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a gust that the aircraft does not stand',
      search: 'gust: 4 m/s',
      replace: 'gust: 14 m/s',
      expected: ['caution leg-faster-than-aircraft', 'stop return-energy-short', 'stop wind-above-aircraft-limit'],
    },
    {
      because: 'a look at the people of another season',
      search: '  none-within: 40 m\n  seen: 2026-05-19',
      replace: '  none-within: 40 m\n  seen: 2026-02-19',
      expected: ['caution plan-reused'],
    },
    {
      because: 'a way home too high',
      search: 'climb-to: 26 m above take-off',
      replace: 'climb-to: 126 m above take-off',
      expected: ['stop return-above-height-limit'],
    },
  ],
};

testDay(day);

const FOUR_HUNDRED_FEET = /\b400 ft\b|121\.92/;

test('a flight in the Union hears nothing of 400 ft', async () => {
  for (const text of [readProject(day.plan), ...day.mutants.map((mutant) => mutate(readProject(day.plan), mutant))]) {
    const found = await judgeDay(day, text);
    expect(found.ruleSet).toBe('eu-open');
    const said = [
      ...found.findings.map(({ message }) => message),
      ...found.gaps.map(({ reason }) => reason),
      ...found.margins.map(({ limit }) => `${limit.value} ${limit.setBy}`),
      ...found.findings.flatMap(({ fixes }) => (fixes ?? []).map(({ title }) => title)),
    ];
    expect(said.filter((one) => FOUR_HUNDRED_FEET.test(one))).toEqual([]);
  }
});
