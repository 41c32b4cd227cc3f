import { makeGeoTiff } from '../../support/make-raster.ts';
import { testDay } from '../../support/working-day.ts';

/**
 * An invented valley: a creek that winds and falls from west to east, slopes on both sides, spurs that reach into it, and a
 * knoll on the way back.
 * Heights above mean sea level in metres.
 */
const valley = (lon: number, lat: number): number => {
  const x = (lon + 120.46) * 75_000;
  const y = (lat - 47.62) * 111_200;
  const creek = 70 * Math.sin(x / 180);
  const aside = y - creek;
  const slope = 160 * (1 - Math.exp(-((aside / 330) ** 2)));
  const spurs = 12 * Math.sin(x / 95) * Math.exp(-((aside / 220) ** 2));
  const knoll = 25 * Math.exp(-(((x - 45) / 30) ** 2) - ((y - 83) / 30) ** 2);
  return 632 - 0.03 * x + slope + spurs + knoll;
};

const STEP = 0.0002;

const terrain = makeGeoTiff({
  columns: 200,
  rows: 120,
  x: -120.48,
  y: 47.632,
  stepX: STEP,
  stepDown: STEP,
  epsg: 4326,
  noData: '-9999',
  value: (column, row) => valley(-120.48 + column * STEP, 47.632 - row * STEP),
});

const collection = (features: readonly object[], more: object = {}): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    edition: '2026-06-01',
    retrieved: '2026-06-12T08:00:00Z',
    ...more,
    features,
  });

const near = (lon: number, lat: number, radius: string, properties: object): object => ({
  type: 'Feature',
  properties: { ...properties, radius },
  geometry: { type: 'Point', coordinates: [lon, lat] },
});

const zones = collection(
  [
    near(-120.43, 47.64, '2 km', {
      id: 'ctr-tarn',
      name: 'Tarn tower',
      kind: 'controlled',
      class: 'D',
      floor: 'surface',
      ceiling: '3600 ft AMSL',
    }),
    near(-120.46, 47.62, '20 km', {
      id: 'e-tarn',
      name: 'Tarn transition',
      kind: 'controlled',
      class: 'E',
      floor: '700 ft AGL',
      ceiling: '14500 ft AMSL',
    }),
    near(-120.4622, 47.6222, '110 m', {
      id: 'osprey',
      name: 'Osprey cliff',
      kind: 'house',
      floor: 'surface',
      ceiling: '150 m AGL',
      text: 'no flight near the cliff from April to August',
    }),
    near(-120.4595, 47.6198, '900 m', {
      id: 'blasting',
      name: 'Quarry blasting',
      kind: 'restricted',
      floor: 'surface',
      ceiling: '300 m AGL',
      active: [{ from: '2026-06-14 09:00 -07:00', until: '2026-06-14 11:00 -07:00' }],
    }),
  ],
  { covers: [-120.6, 47.5, -120.3, 47.7] },
);

const masts = collection([near(-120.4578, 47.6203, '3 m', { name: 'relay mast', top: '30 m AGL' })]);

const AIRCRAFT = `aircraft: 1
name: heron-4
kind: multirotor
mass: 6.1 kg
size: 1.1 m
max-speed: 18 m/s
max-wind: 11 m/s
cruise-speed: 10 m/s
climb-rate: 7 m/s
descent-rate: 5 m/s
endurance: 32 min
battery: { nominal: 700 Wh, usable: 85 %, health: 92 %, temperature: 18 C }
power: { hover: 900 W, cruise: [920 W at 8 m/s, 1080 W at 14 m/s], climb: 1250 W }
reserve: 25 %
registration: { number: FA3HERN4WB, expires: 2028-03-31 }
remote-identification: { means: standard, serial: WAYW8HR000004 }
`;

testDay({
  title: 'a corridor in the hills at dawn',
  plan: 'test/days/corridor-at-dawn/corridor.mission.yaml',
  now: '2026-06-13 20:00 -07:00',
  files: {
    'tarn.tif': terrain,
    'tarn-zones.geojson': zones,
    'tarn-masts.geojson': masts,
    'heron-4.aircraft.yaml': AIRCRAFT,
  },
  expected: [],
  margins: {
    'ground-speed-above-limit': [30, 40],
    'leg-above-height-limit': [50, 80],
    'leg-meets-ground': [25, 40],
    'point-above-height-limit': [50, 80],
    'registration-lapsed': [600, 700],
    'seen-beyond-guidance-range': [20, 80],
    'seen-beyond-visibility': [8000, 9000],
  },
  mutants: [
    {
      because: 'a point above 400 ft',
      search: 'altitude: 52 m AGL',
      replace: 'altitude: 122 m AGL',
      expected: ['stop point-above-height-limit'],
    },
    {
      because: 'a point in the wrong unit',
      search: 'altitude: 160 ft AGL',
      replace: 'altitude: 160 m AGL',
      expected: ['stop point-above-height-limit'],
    },
    {
      because: 'a point below the ground',
      search: 'altitude: 690 m AMSL',
      replace: 'altitude: 630 m AMSL',
      expected: ['stop point-below-ground'],
    },
    {
      because: 'a leg that runs into the knoll between two places above ground',
      search: 'altitude: 70 m above take-off',
      replace: 'altitude: 30 m above take-off',
      expected: ['stop hidden-from-pilot', 'stop leg-meets-ground'],
    },
    {
      because: 'a point inside the house zone',
      search: 'at: 47.62075, -120.46220',
      replace: 'at: 47.62175, -120.46220',
      expected: ['stop return-above-height-limit', 'stop zone-entered-unauthorised'],
    },
    {
      because: 'a window in which the quarry is active',
      search: 'until: 2026-06-14 05:55 -07:00',
      replace: 'until: 2026-06-14 09:05 -07:00',
      expected: ['stop zone-entered-unauthorised'],
    },
    {
      because: 'a leg faster than 87 kt',
      search: 'speed: 10 m/s over ground',
      replace: 'speed: 100 kt over ground',
      expected: ['caution contingency-reaches-zone', 'stop ground-speed-above-limit', 'stop leg-faster-than-aircraft'],
    },
    {
      because: 'an airspeed that the gust overcomes',
      search: 'speed: 5 m/s through air',
      replace: 'speed: 3 m/s through air',
      expected: [
        '? energy-short',
        '? reserve-below-policy',
        '? return-energy-short',
        '? window-too-short',
        'caution contingency-reaches-zone',
        'stop track-not-held',
      ],
    },
    {
      because: 'a wrong digit in the elevation',
      search: 'elevation: 634 m',
      replace: 'elevation: 664 m',
      expected: ['caution take-off-elevation-contradicted'],
    },
    {
      because: 'a mast taller than the leg over it',
      search: 'top: 9 m AGL, radius: 6 m',
      replace: 'top: 90 m AGL, radius: 60 m',
      expected: ['caution hidden-from-pilot', 'stop obstacle-struck'],
    },
    {
      because: 'a point farther away than the aircraft can be made out',
      search: 'at: 47.62010, -120.46410',
      replace: 'at: 47.62010, -120.46610',
      expected: ['caution seen-beyond-guidance-range'],
    },
    {
      because: 'a look at the site in another season',
      search: 'seen: 2026-06-12, by: pilot',
      replace: 'seen: 2026-03-12, by: pilot',
      expected: ['caution plan-reused'],
    },
    {
      because: 'a window that is over',
      search: 'window: { from: 2026-06-14 05:25 -07:00, until: 2026-06-14 05:55 -07:00 }',
      replace: 'window: { from: 2026-06-13 05:25 -07:00, until: 2026-06-13 05:55 -07:00 }',
      expected: ['stop window-over'],
    },
  ],
});
