import { expect, test } from 'vitest';
import { circleAt, dayFeatures, dayTerrain } from '../../support/day-world.ts';
import { readProject } from '../../support/project.ts';
import { judgeDay, testDay, type WorkingDay } from '../../support/working-day.ts';

/** An invented meadow that falls to a ditch in the north. */
const terrain = dayTerrain([-91.5, 44.1], (_lon, lat) => 218 - 10 * Math.max(0, (lat - 44.1) * 100));

const zones = dayFeatures(
  '2026-07-14T08:00:00Z',
  [
    circleAt(-91.5, 44.101, '400 m', {
      id: 'reserve',
      name: 'Meadow reserve',
      kind: 'house',
      floor: 'surface',
      ceiling: '300 m AGL',
      text: 'a permit of the reserve',
    }),
  ],
  { covers: [-91.7, 43.9, -91.3, 44.3] },
);

const AIRCRAFT = `aircraft: 1
name: lark-2
kind: multirotor
mass: 0.9 kg
size: 0.4 m
max-speed: 15 m/s
max-wind: 10 m/s
cruise-speed: 7 m/s
climb-rate: 4 m/s
descent-rate: 3 m/s
endurance: 26 min
battery: { nominal: 60 Wh, usable: 85 %, temperature: 18 C }
power: { hover: 95 W, cruise: [98 W at 7 m/s, 140 W at 15 m/s], climb: 135 W }
reserve: 25 %
registration: { number: FA3LARK27K, expires: 2027-09-30 }
remote-identification: { means: standard, serial: WAYW9LK0000002 }
`;

const BASE = ['caution plan-reused', 'stop zone-entered-unauthorised'];

const day: WorkingDay = {
  title: 'the plan of last month, used again',
  plan: 'test/days/plan-of-last-month/meadow.mission.yaml',
  now: '2026-07-15 18:00 -05:00',
  files: { 'meadow.tif': terrain, 'meadow-zones.geojson': zones, 'lark-2.aircraft.yaml': AIRCRAFT },
  // What was seen in June is one finding; the permit that ended in June is another.
  expected: BASE,
  margins: {},
  mutants: [
    {
      because: 'the permit renewed, and nothing else',
      search: 'until: 2026-06-30',
      replace: 'until: 2026-07-31',
      expected: ['caution plan-reused'],
    },
    {
      because: 'the window of June left in',
      search: 'window: { from: 2026-07-16 06:30 -05:00, until: 2026-07-16 07:00 -05:00 }',
      replace: 'window: { from: 2026-06-16 06:30 -05:00, until: 2026-06-16 07:00 -05:00 }',
      expected: [
        '? aircraft-condition-unstated',
        '? aircraft-unmarked',
        '? crew-fitness-unstated',
        '? crewed-traffic-unstated',
        '? dangerous-goods-unstated',
        '? transponder-unstated',
        'caution plan-reused',
        'stop window-over',
      ],
    },
    {
      because: 'a look for restrictions in June',
      search: 'none-found: notices of the area, seen: 2026-07-15',
      replace: 'none-found: notices of the area, seen: 2026-06-09',
      expected: ['? restrictions-not-looked-up', ...BASE],
    },
    {
      because: 'a test two years and more before',
      search: 'tested: 2025-04-09',
      replace: 'tested: 2024-06-09',
      expected: ['caution plan-reused', 'stop competency-lapsed', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a point above the permit and the law',
      search: 'altitude: 45 m AGL\n    leg: { speed: 6 m/s',
      replace: 'altitude: 145 m AGL\n    leg: { speed: 6 m/s',
      expected: [
        'caution climb-beyond-rate',
        'caution climb-beyond-rate',
        'caution plan-reused',
        'caution seen-beyond-guidance-range',
        'stop point-above-height-limit',
        'stop zone-entered-unauthorised',
      ],
    },
    {
      because: 'feet for metres in the elevation',
      search: 'elevation: 218 m',
      replace: 'elevation: 715 m',
      expected: ['caution plan-reused', 'caution take-off-elevation-contradicted', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a preflight check of last month',
      search: 'traffic], seen: 2026-07-15',
      replace: 'traffic], seen: 2026-06-15',
      expected: [
        '? aircraft-condition-unstated',
        '? aircraft-unmarked',
        '? crew-fitness-unstated',
        '? crewed-traffic-unstated',
        '? dangerous-goods-unstated',
        '? transponder-unstated',
        ...BASE,
      ],
    },
    {
      because: 'a leg below what the crew looked at',
      search: 'altitude: 45 m AGL\n    leg: { speed: 5 m/s',
      replace: 'altitude: 15 m AGL\n    leg: { speed: 5 m/s',
      expected: ['caution leg-below-obstacle-statement', ...BASE],
    },
    {
      because: 'the visibility of a foggy morning',
      search: 'visibility: 10 km',
      replace: 'visibility: 1 km',
      expected: ['caution plan-reused', 'stop visibility-below-minimum', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a permission that came after the flight',
      search: 'given: 2026-06-02',
      replace: 'given: 2026-07-22',
      expected: ['caution ground-permission-after-flight', ...BASE],
    },
    {
      because: 'nobody looked at the people',
      search: 'people: { none-within: 200 m, seen: 2026-06-09, by: pilot }\n',
      replace: '',
      expected: ['? people-in-fall-reach', '? people-overflown', '? people-unstated', ...BASE],
    },
  ],
};

testDay(day);

test('all that dates from June is one finding that names it', async () => {
  const found = await judgeDay(day, readProject(day.plan));
  const [reused, ...more] = found.findings.filter(({ rule }) => rule === 'plan-reused');
  expect(more).toEqual([]);
  expect(reused?.message).toContain('people (2026-06-09, 37 days before) and obstacles (2026-06-09, 37 days before)');
});
