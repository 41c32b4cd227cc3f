import { expect, test } from 'vitest';
import { tellRule } from '../../../server/src/review/tell.ts';
import { RULES } from '../../../server/src/rules/index.generated.ts';
import { makeGeoTiff } from '../../support/make-raster.ts';
import { readProject } from '../../support/project.ts';
import { judgeDay, testDay, type WorkingDay } from '../../support/working-day.ts';

/** An invented park: a lawn that falls to a pond in the north-east, and a bank around it. */
const park = (lon: number, lat: number): number => {
  const x = (lon + 105.1) * 85_300;
  const y = (lat - 39.95) * 111_000;
  const pond = 3 * Math.exp(-(((x - 20) / 35) ** 2) - ((y - 50) / 30) ** 2);
  return 1622 - 0.01 * x + 0.004 * y - pond;
};

const STEP = 0.0001;

const terrain = makeGeoTiff({
  columns: 300,
  rows: 260,
  x: -105.115,
  y: 39.963,
  stepX: STEP,
  stepDown: STEP,
  epsg: 4326,
  noData: '-9999',
  value: (column, row) => park(-105.115 + column * STEP, 39.963 - row * STEP),
});

const zones = JSON.stringify({
  type: 'FeatureCollection',
  edition: '2026-06-11',
  retrieved: '2026-07-03T08:00:00Z',
  covers: [-105.3, 39.8, -104.9, 40.1],
  features: [
    {
      type: 'Feature',
      properties: {
        id: 'ctr-linden',
        name: 'Linden tower',
        kind: 'controlled',
        class: 'D',
        floor: 'surface',
        ceiling: '8000 ft AMSL',
        radius: '4 km',
      },
      geometry: { type: 'Point', coordinates: [-105.15, 39.95] },
    },
  ],
});

const aircraft = (name: string, mass: string): string =>
  `aircraft: 1\nname: ${name}\nkind: multirotor\nmass: ${mass}\nsize: 0.25 m\nmax-speed: 52 m/s\nmax-wind: 9 m/s\ncruise-speed: 12 m/s\nclimb-rate: 6 m/s\ndescent-rate: 4 m/s\nendurance: 14 min\nbattery: { nominal: 33 Wh, usable: 80 %, temperature: 20 C }\nreserve: 20 %\n`;

const day: WorkingDay = {
  title: 'a recreational flight by goggles in a park',
  plan: 'test/days/goggles-in-the-park/goggles.mission.yaml',
  now: '2026-07-04 12:00 -06:00',
  files: {
    'park.tif': terrain,
    'park-zones.geojson': zones,
    // Not more than 0.55 lb (249.48 g): 14 CFR 48.15(b) asks for no registration.
    'sparrow.aircraft.yaml': aircraft('sparrow', '238 g'),
    'starling.aircraft.yaml': aircraft('starling', '310 g'),
  },
  expected: [],
  margins: {
    'area-above-height-limit': [80, 100],
    'leg-above-height-limit': [90, 110],
    'leg-meets-ground': [10, 20],
    'point-above-height-limit': [100, 110],
    'seen-beyond-guidance-range': [5, 40],
    'seen-beyond-visibility': [2800, 3000],
  },
  mutants: [
    {
      because: 'a point above 400 ft',
      search: 'altitude: 18 m AGL',
      replace: 'altitude: 180 m AGL',
      expected: [
        'caution climb-beyond-rate',
        'caution climb-beyond-rate',
        'caution seen-beyond-guidance-range',
        'stop point-above-height-limit',
      ],
    },
    {
      because: 'a top of the area above 400 ft',
      search: 'to: 35 m AGL',
      replace: 'to: 135 m AGL',
      expected: ['caution seen-beyond-guidance-range', 'stop area-above-height-limit'],
    },
    {
      because: 'nobody watches with unaided eyes',
      search: '\n  observers:\n    - { name: friend, stands: beside pilot, talks-by: voice, watches: unaided }',
      replace: '',
      expected: ['stop goggles-without-observer'],
    },
    {
      because: 'work in a plan for recreation',
      search: 'title: Evening laps between the lime trees',
      replace: 'title: Evening laps for a client',
      expected: ['caution recreation-with-work'],
    },
    {
      because: 'an aircraft above 0.55 lb without a registration',
      search: 'aircraft: sparrow.aircraft.yaml',
      replace: 'aircraft: starling.aircraft.yaml',
      expected: ['stop registration-missing', 'stop remote-identification-missing'],
    },
    {
      because: 'a purpose that is not recreation',
      search: 'purpose: recreation',
      replace: 'purpose: training film',
      expected: [
        '? cloud-nearer-than-minimum',
        'stop competency-missing',
        'stop ground-speed-above-limit',
        'stop ground-speed-above-limit',
        'stop registration-missing',
        'stop remote-identification-missing',
        'stop visibility-below-minimum',
      ],
    },
    {
      because: 'a point in the surface area of the tower',
      search: 'at: 39.95030, -105.10050',
      replace: 'at: 39.95030, -105.10350',
      expected: ['caution seen-beyond-guidance-range', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a statement about people without the one who looked',
      search: 'people: { none-within: 340 m, seen: 2026-07-03, by: pilot }',
      replace: 'people: { none-within: 340 m, seen: 2026-07-03 }',
      expected: ['? people-unstated', 'stop key-missing'],
    },
    {
      because: 'a leg below what the crew looked at',
      search: 'none-above: 12 m AGL',
      replace: 'none-above: 17 m AGL',
      expected: ['caution leg-below-obstacle-statement'],
    },
    {
      because: 'a window that is over',
      search: 'window: { from: 2026-07-04 18:30 -06:00, until: 2026-07-04 18:50 -06:00 }',
      replace: 'window: { from: 2026-07-03 18:30 -06:00, until: 2026-07-03 18:50 -06:00 }',
      expected: ['stop window-over'],
    },
    {
      because: 'the elevation in feet written as metres',
      search: 'elevation: 1622 m',
      replace: 'elevation: 5322 m',
      expected: ['caution take-off-elevation-contradicted'],
    },
    {
      because: 'fog',
      search: 'visibility: 3 km',
      replace: 'visibility: 50 m',
      expected: ['caution seen-beyond-guidance-range', 'stop seen-beyond-visibility'],
    },
  ],
};

testDay(day);

/** Limits that 14 CFR 107.51 sets and 49 U.S.C. 44809 does not: 87 knots, 3 statute miles, distances from clouds. */
const OF_PART_107 = /\b87 (?:kt|knots)\b|\b100 mph\b|\b3 (?:SM|statute)|statute mile|\bcloud|107\.51/i;

test('recreation hears nothing of the speed, the visibility and the cloud distances of part 107', async () => {
  const found = await judgeDay(day, readProject(day.plan));
  expect(found.ruleSet).toBe('us-recreational');
  const inForce = found.matrix.filter(({ state }) => state !== 'does-not-apply');
  const texts = [
    ...found.findings.map(({ message }) => message),
    ...found.gaps.map(({ reason }) => reason),
    ...found.margins.map(({ limit }) => limit.setBy),
    ...inForce.map(({ rule, because }) => `${rule} ${because}`),
  ];
  expect(texts.filter((text) => OF_PART_107.test(text))).toEqual([]);
  // The words are looked for rightly: the rules that hold these limits are there, and do not belong to this flight.
  for (const name of ['ground-speed-above-limit', 'visibility-below-minimum', 'cloud-nearer-than-minimum']) {
    const rule = RULES.find(({ id }) => id === name);
    if (rule === undefined) throw new Error(`the rule ${name} has another name`);
    expect(tellRule(rule)).toMatch(OF_PART_107);
    expect(inForce.map((row) => row.rule)).not.toContain(name);
  }
});
