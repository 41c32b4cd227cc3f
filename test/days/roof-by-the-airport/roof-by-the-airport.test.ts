import { expect, test } from 'vitest';
import { boxOf, circleAt, dayFeatures, dayTerrain } from '../../support/day-world.ts';
import { readProject } from '../../support/project.ts';
import { judgeDay, mutate, testDay, type WorkingDay } from '../../support/working-day.ts';

/** An invented plain that rises a little to the west. */
const terrain = dayTerrain([-98.2, 39.1], (lon) => 410 - 20 * (lon + 98.2043));

const cell = (west: number, south: number, ceiling: string): object =>
  boxOf(west, south, west + 0.01, south + 0.01, {
    id: `cell-${west}-${south}`,
    name: `cell ${west} ${south}`,
    kind: 'cell',
    grid: 'Harrow grid',
    ceiling,
  });

const zones = dayFeatures(
  '2026-09-01T08:00:00Z',
  [
    circleAt(-98.25, 39.1, '6.5 km', {
      id: 'ctr-harrow',
      name: 'Harrow tower',
      kind: 'controlled',
      class: 'D',
      floor: 'surface',
      ceiling: '2900 ft AMSL',
    }),
    cell(-98.21, 39.1, '100 ft AGL'),
    cell(-98.2, 39.1, '100 ft AGL'),
    cell(-98.22, 39.1, '50 ft AGL'),
    cell(-98.21, 39.09, '50 ft AGL'),
  ],
  { covers: [-98.4, 38.9, -98.0, 39.3] },
);

const AIRCRAFT = `aircraft: 1
name: plover-2
kind: multirotor
mass: 1.1 kg
size: 0.4 m
max-speed: 15 m/s
max-wind: 10 m/s
cruise-speed: 8 m/s
climb-rate: 4 m/s
descent-rate: 3 m/s
endurance: 28 min
battery: { nominal: 77 Wh, usable: 85 %, temperature: 24 C }
power: { hover: 120 W, cruise: [125 W at 8 m/s, 170 W at 15 m/s], climb: 165 W }
reserve: 25 %
registration: { number: FA3PL2VER7, expires: 2028-05-31 }
remote-identification: { means: standard, serial: WAYW9PL0000012 }
`;

const day: WorkingDay = {
  title: 'a roof inspection near a class D airport with a grid authorisation',
  plan: 'test/days/roof-by-the-airport/roof.mission.yaml',
  now: '2026-09-02 18:00 -05:00',
  files: { 'harrow.tif': terrain, 'harrow-zones.geojson': zones, 'plover-2.aircraft.yaml': AIRCRAFT },
  expected: [],
  margins: {},
  mutants: [
    {
      because: 'a top above the 100 ft of the cell',
      search: 'to: 28 m AGL',
      replace: 'to: 31 m AGL',
      expected: ['stop zone-entered-unauthorised'],
    },
    {
      because: 'a climb that ends below the eaves',
      search: 'climb-to: 20 m AGL',
      replace: 'climb-to: 4 m AGL',
      expected: ['stop obstacle-struck'],
    },
    {
      because: 'an area that has the elevator leg in it, to be flown around by hand',
      search: 'circle: 26 m',
      replace: 'circle: 66 m',
      expected: ['note obstacle-struck'],
    },
    {
      because: 'a longitude in a lower cell',
      search: 'around: { lat: 39.10230, lon: -98.20430 }',
      replace: 'around: { lat: 39.09970, lon: -98.20430 }',
      expected: ['caution seen-beyond-guidance-range', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'an authorisation for yesterday',
      search: 'until: 2026-09-03 12:00 -05:00',
      replace: 'until: 2026-09-03 10:00 -05:00',
      expected: ['stop zone-entered-unauthorised'],
    },
    {
      because: 'an authorisation for another grid',
      search: 'grid: Harrow grid',
      replace: 'grid: Marrow grid',
      expected: ['stop zone-entered-unauthorised'],
    },
    {
      because: 'a condition that nobody answers',
      search: 'traffic, authorisation-condition-unstated]',
      replace: 'traffic]',
      expected: ['? authorisation-condition-unstated'],
    },
    {
      because: 'a test two years and a month ago',
      search: 'tested: 2025-11-18',
      replace: 'tested: 2024-07-18',
      expected: ['stop competency-lapsed'],
    },
    {
      because: 'more minutes over the roof than the battery has',
      search: 'for: 12 min',
      replace: 'for: 34 min',
      expected: ['stop energy-short'],
    },
    {
      because: 'a wind above what the aircraft stands',
      search: 'gust: 6 m/s',
      replace: 'gust: 10.5 m/s',
      expected: ['stop wind-above-aircraft-limit'],
    },
    {
      because: 'a visibility below three statute miles',
      search: 'visibility: 10 km',
      replace: 'visibility: 4 km',
      expected: ['stop visibility-below-minimum'],
    },
    {
      because: 'a cloud base 500 ft and a bit above',
      search: 'cloud-base: 2500 ft AGL',
      replace: 'cloud-base: 500 ft AGL',
      expected: ['stop cloud-nearer-than-minimum'],
    },
  ],
};

testDay(day);

/** Whatever names the airport: its tower, its zone, or how near it is. */
const THE_AIRPORT = /Harrow|\btower\b|airport/i;

test('a flight that is granted hears nothing of the nearness of the airport', async () => {
  const found = await judgeDay(day, readProject(day.plan));
  const said = [...found.findings.map(({ message }) => message), ...found.gaps.map(({ reason }) => reason)];
  expect(said.filter((text) => THE_AIRPORT.test(text))).toEqual([]);
  expect(found.lifted.map(({ finding, by }) => `${finding.rule} by ${by.name}`)).toEqual([
    'zone-entered-unauthorised by G-4471',
  ]);
});

test('the airport is told once as soon as the paper does not hold', async () => {
  const [mutant] = day.mutants;
  if (mutant === undefined) throw new Error('the day has no mutants');
  const found = await judgeDay(day, mutate(readProject(day.plan), mutant));
  expect(found.findings.filter(({ message }) => THE_AIRPORT.test(message))).toHaveLength(1);
});

test('a flight by hand hears nothing of missing waypoints', async () => {
  const found = await judgeDay(day, readProject(day.plan));
  const said = [
    ...found.findings.map(({ rule, message }) => `${rule} ${message}`),
    ...found.gaps.map(({ rule, reason }) => `${rule} ${reason}`),
  ];
  expect(said.filter((text) => /waypoint|no point|without a point|pattern/i.test(text))).toEqual([]);
});
