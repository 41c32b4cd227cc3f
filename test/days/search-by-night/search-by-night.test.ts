import { circleAt, dayFeatures, dayTerrain } from '../../support/day-world.ts';
import { testDay } from '../../support/working-day.ts';

/** Invented reed land with a dyke two metres high from west to east. */
const terrain = dayTerrain([-121, 44], (_lon, lat) => 1100 + 2 * Math.exp(-((((lat - 44) * 111_100) / 40) ** 2)));

const zones = dayFeatures(
  '2026-10-06T08:00:00Z',
  [
    circleAt(-121, 44.01, '600 m', {
      id: 'prison',
      name: 'County prison',
      kind: 'prohibited',
      floor: 'surface',
      ceiling: '300 m AGL',
    }),
  ],
  { covers: [-121.2, 43.8, -120.8, 44.2] },
);

const aircraft = (light: string): string => `aircraft: 1
name: owl-3
kind: multirotor
mass: 1.9 kg
size: 0.6 m
max-speed: 16 m/s
max-wind: 11 m/s
cruise-speed: 8 m/s
climb-rate: 4 m/s
descent-rate: 3 m/s
endurance: 30 min
battery: { nominal: 110 Wh, usable: 85 %, temperature: 12 C }
power: { hover: 170 W, cruise: [175 W at 8 m/s, 230 W at 16 m/s], climb: 220 W }
reserve: 25 %
registration: { number: FA3CWL3N8K, expires: 2028-01-31 }
remote-identification: { means: standard, serial: WAYW9CW0000003 }
lights: [{ colour: white, flashing: yes, visible: ${light} }]
`;

testDay({
  title: 'a search by night',
  plan: 'test/days/search-by-night/search.mission.yaml',
  now: '2026-10-08 19:30 -07:00',
  files: {
    'dyke.tif': terrain,
    'dyke-zones.geojson': zones,
    'owl-3.aircraft.yaml': aircraft('3 SM'),
    'owl-4.aircraft.yaml': aircraft('2 SM'),
  },
  expected: [],
  margins: {},
  mutants: [
    {
      because: 'a light that is seen from two miles only',
      search: 'aircraft: owl-3.aircraft.yaml',
      replace: 'aircraft: owl-4.aircraft.yaml',
      expected: ['stop anti-collision-light-missing'],
    },
    {
      because: 'a test from before night was in it',
      search: 'tested: 2026-02-03',
      replace: 'tested: 2021-02-03',
      expected: ['stop competency-lapsed', 'stop night-training-missing'],
    },
    {
      because: 'a preflight check of two days before',
      search: 'seen: 2026-10-08 18:30 -07:00',
      replace: 'seen: 2026-10-06 18:30 -07:00',
      expected: [
        '? aircraft-condition-unstated',
        '? aircraft-unmarked',
        '? crew-fitness-unstated',
        '? crew-unbriefed',
        '? crewed-traffic-unstated',
        '? dangerous-goods-unstated',
        '? transponder-unstated',
      ],
    },
    {
      because: 'a point above 400 ft',
      search: 'altitude: 35 m AGL\n    leg: { speed: 5 m/s',
      replace: 'altitude: 135 m AGL\n    leg: { speed: 5 m/s',
      expected: ['caution seen-beyond-guidance-range', 'stop point-above-height-limit'],
    },
    {
      because: 'a top of the area above 400 ft',
      search: 'to: 45 m AGL',
      replace: 'to: 145 m AGL',
      expected: ['stop area-above-height-limit', 'stop return-above-height-limit'],
    },
    {
      because: 'a point in the zone of the prison',
      search: 'at: 44.00150, -120.99900',
      replace: 'at: 44.00550, -120.99900',
      expected: ['? beyond-link-range', 'caution seen-beyond-guidance-range', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'goggles, with an observer beside the pilot',
      search: 'duty officer, watches: unaided }',
      replace: 'duty officer, watches: goggles }',
      expected: [],
    },
    {
      because: 'a leg lower than what the spotter looked at',
      search: 'altitude: 35 m AGL\n    leg: { speed: 4 m/s',
      replace: 'altitude: 14 m AGL\n    leg: { speed: 4 m/s',
      expected: ['caution leg-below-obstacle-statement'],
    },
    {
      because: 'mist',
      search: 'visibility: 12 km',
      replace: 'visibility: 3 km',
      expected: ['stop visibility-below-minimum'],
    },
    {
      because: 'a window of four minutes',
      search: 'window: { from: 2026-10-08 20:40 -07:00, until: 2026-10-08 21:15 -07:00 }',
      replace: 'window: { from: 2026-10-08 20:40 -07:00, until: 2026-10-08 20:44 -07:00 }',
      expected: ['stop window-too-short'],
    },
    {
      because: 'a search longer than the battery',
      search: 'for: 6 min',
      replace: 'for: 31 min',
      expected: ['stop energy-short'],
    },
  ],
});
