import { expect, test } from 'vitest';
import { dayFeatures, dayTerrain } from '../../support/day-world.ts';
import { readProject } from '../../support/project.ts';
import { judgeDay, mutate, testDay, type WorkingDay } from '../../support/working-day.ts';

/** An invented quarry: a floor that rises to the north by a tenth. */
const terrain = dayTerrain([-106, 38.5], (_lon, lat) => 2100 + 0.1 * Math.max(0, (lat - 38.5) * 111_000));

const zones = dayFeatures('2026-05-10T08:00:00Z', [], { covers: [-106.2, 38.3, -105.8, 38.7] });

const aircraft = (name: string, number: string, serial: string): string => `aircraft: 1
name: ${name}
kind: multirotor
mass: 1.4 kg
size: 0.7 m
max-speed: 16 m/s
max-wind: 11 m/s
cruise-speed: 8 m/s
climb-rate: 4 m/s
descent-rate: 3 m/s
max-density-altitude: 3500 m
endurance: 28 min
battery: { nominal: 100 Wh, usable: 85 %, temperature: 14 C }
power: { hover: 150 W, cruise: [155 W at 8 m/s, 210 W at 16 m/s], climb: 210 W }
reserve: 25 %
registration: { number: ${number}, expires: 2028-01-31 }
remote-identification: { means: standard, serial: ${serial} }
`;

const files = {
  'quarry.tif': terrain,
  'quarry-zones.geojson': zones,
  'wheatear-1.aircraft.yaml': aircraft('wheatear-1', 'FA3WHE2T1R', 'WAYW9WT0000001'),
  'wheatear-2.aircraft.yaml': aircraft('wheatear-2', 'FA3WHE2T2R', 'WAYW9WT0000002'),
};

const WEST = 'test/days/quarry-in-two-halves/west.mission.yaml';
const EAST = 'test/days/quarry-in-two-halves/east.mission.yaml';

const day: WorkingDay = {
  title: 'two aircraft and two pilots on one site',
  plan: WEST,
  now: '2026-05-11 18:00 -06:00',
  files: { ...files, 'east.mission.yaml': readProject(EAST) },
  expected: [],
  margins: {},
  mutants: [
    {
      because: 'the pilot of the other half',
      search: 'by: MK',
      replace: 'by: TR',
      expected: ['stop one-person-for-two-aircraft'],
    },
    {
      because: 'an observer for both halves',
      search: 'name: JB',
      replace: 'name: op',
      expected: ['stop one-person-for-two-aircraft'],
    },
    {
      because: 'a pilot without initials',
      search: 'by: MK, ',
      replace: '',
      expected: ['? one-person-for-two-aircraft'],
    },
    {
      because: 'a plan alongside that is not there',
      search: 'alongside: [east.mission.yaml]',
      replace: 'alongside: [esat.mission.yaml]',
      expected: [
        '? one-person-for-two-aircraft',
        '? paths-meet-alongside',
        '? take-off-inside-buffer',
        '? volumes-meet-alongside',
        'stop reference-unreadable',
      ],
    },
    {
      because: 'a corner in the eastern half',
      search: '38.50080, -106.00440',
      replace: '38.50080, -106.00240',
      expected: ['caution seen-beyond-guidance-range', 'stop paths-meet-alongside'],
    },
    {
      because: 'a corner at the edge of the eastern half',
      search: '38.50170, -106.00440',
      replace: '38.50170, -106.00280',
      expected: ['caution seen-beyond-guidance-range', 'caution volumes-meet-alongside'],
    },
    {
      because: 'a take-off place beside the eastern pit',
      search: 'lat: 38.50000, lon: -106.00600',
      replace: 'lat: 38.50060, lon: -106.00330',
      expected: ['caution seen-beyond-guidance-range', 'caution take-off-inside-buffer'],
    },
    {
      because: 'lines above 400 ft',
      search: 'altitude: 60 m AGL',
      replace: 'altitude: 130 m AGL',
      expected: ['caution seen-beyond-guidance-range', 'stop point-above-height-limit'],
    },
    {
      because: 'lines below what the crew looked at',
      search: 'altitude: 60 m AGL',
      replace: 'altitude: 20 m AGL',
      expected: ['caution leg-below-obstacle-statement'],
    },
    {
      because: 'more speed than the aircraft has',
      search: 'spacing: 25 m\n    speed: 6 m/s',
      replace: 'spacing: 25 m\n    speed: 26 m/s',
      expected: ['stop leg-faster-than-aircraft'],
    },
    {
      because: 'lines so near that too little of the battery is left',
      search: 'spacing: 25 m',
      replace: 'spacing: 2 m',
      expected: ['caution reserve-below-policy'],
    },
    {
      because: 'a wind above what the aircraft stands',
      search: 'gust: 6 m/s',
      replace: 'gust: 11.5 m/s',
      expected: ['caution leg-faster-than-aircraft', 'stop wind-above-aircraft-limit'],
    },
  ],
};

testDay(day);

test('the other plan finds the same from its side', async () => {
  const west = readProject(WEST);
  const east: WorkingDay = { ...day, plan: EAST, files: { ...files, 'west.mission.yaml': west } };
  const sound = await judgeDay(east, readProject(EAST));
  expect([...sound.findings.map(({ rule }) => rule), ...sound.gaps.map(({ rule }) => rule)]).toEqual([]);
  const shared = new Set([
    'one-person-for-two-aircraft',
    'paths-meet-alongside',
    'take-off-inside-buffer',
    'volumes-meet-alongside',
  ]);
  let compared = 0;
  for (const mutant of day.mutants) {
    const expected = mutant.expected.filter((one) => shared.has(one.split(' ')[1] ?? ''));
    // What cannot be read from one side can from the other.
    if (expected.length !== 1) continue;
    const changed = { ...east, files: { ...files, 'west.mission.yaml': mutate(west, mutant) } };
    const found = await judgeDay(changed, readProject(EAST));
    const said = [
      ...found.findings.map(({ level, rule }) => `${level} ${rule}`),
      ...found.gaps.map(({ rule }) => `? ${rule}`),
    ].filter((one) => shared.has(one.split(' ')[1] ?? ''));
    expect(said, mutant.because).toEqual(expected);
    compared++;
  }
  expect(compared).toBe(6);
});
