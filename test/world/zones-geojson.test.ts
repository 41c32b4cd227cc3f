import { describe, expect, test } from 'vitest';
import { readZones, type ZonesFile } from '../../server/src/world/zones-geojson.ts';

const SQUARE = [
  [10, 47],
  [10.1, 47],
  [10.1, 47.1],
  [10, 47.1],
  [10, 47],
];
const PROPERTIES = { name: 'quarry', kind: 'restricted', floor: 'surface', ceiling: '1500 ft AMSL' };
const polygon = (ring: unknown, properties: object = {}): object => ({
  type: 'Feature',
  properties: { ...PROPERTIES, ...properties },
  geometry: { type: 'Polygon', coordinates: [ring] },
});
const point = (coordinates: unknown, properties: object = {}): object => ({
  type: 'Feature',
  properties: { ...PROPERTIES, ...properties },
  geometry: { type: 'Point', coordinates },
});
const zonesOf = (features: readonly unknown[], more: object = {}): ZonesFile =>
  readZones(JSON.stringify({ type: 'FeatureCollection', ...more, features }));

describe('zones that can be used', () => {
  test('a polygon with all that can be said of it', () => {
    const file = zonesOf(
      [
        polygon(SQUARE, {
          id: 'Z-7',
          kind: 'controlled',
          class: 'D',
          surfaceAreaOfAirport: false,
          floor: '300 m AGL',
          active: [{ from: '2026-06-14 06:00 Z', until: '2026-06-14 08:00 Z' }],
          text: 'Call the tower.',
        }),
      ],
      { edition: '2026-06', retrieved: '2026-06-01T00:00:00Z', covers: [9, 46, 11, 48] },
    );
    expect(file.problems).toEqual([]);
    expect(file.uncovered).toEqual([]);
    expect(file).toMatchObject({ edition: '2026-06', retrieved: '2026-06-01T00:00:00Z' });
    expect(file.covers).toEqual([{ west: 9, south: 46, east: 11, north: 48 }]);
    expect(file.zones).toEqual([
      {
        id: 'Z-7',
        name: 'quarry',
        kind: 'controlled',
        airspaceClass: 'D',
        surfaceAreaOfAirport: false,
        shape: {
          kind: 'polygons',
          polygons: [
            [
              [
                { lon: 10, lat: 47 },
                { lon: 10.1, lat: 47 },
                { lon: 10.1, lat: 47.1 },
                { lon: 10, lat: 47.1 },
              ],
            ],
          ],
        },
        box: { west: 10, south: 47, east: 10.1, north: 47.1 },
        floor: { aboveGround: 300 },
        ceiling: { aboveSea: 1500 * 0.3048 },
        active: [{ from: Date.UTC(2026, 5, 14, 6), until: Date.UTC(2026, 5, 14, 8) }],
        text: 'Call the tower.',
      },
    ]);
  });

  test('a circle has its radius and a box that holds it', () => {
    const { zones, problems } = zonesOf([point([10, 47], { radius: '3 NM' })]);
    expect(problems).toEqual([]);
    expect(zones[0]?.shape).toEqual({ kind: 'circle', centre: { lon: 10, lat: 47 }, radius: 5556 });
    const box = zones[0]?.box;
    expect(box?.north).toBeGreaterThan(47 + 5556 / 111_700);
    expect(box?.east).toBeGreaterThan(10 + 5556 / (111_320 * Math.cos((47 * Math.PI) / 180)));
  });

  test.each([
    ['surface', 'unlimited'],
    ['SFC', 'UNL'],
    ['GND', '120 m AGL'],
    ['0 m AGL', '1350 ft MSL'],
    ['500 ft AMSL', '120 m AGL'],
    ['FL 065', 'FL195'],
    ['2500 ft AMSL', 'fl 195'],
  ])('from %s to %s', (floor, ceiling) => {
    expect(zonesOf([polygon(SQUARE, { floor, ceiling })])).toMatchObject({ problems: [], zones: [{ name: 'quarry' }] });
  });

  test('times of activity are periods, weekly hours, events of the sun, or untold', () => {
    const { zones, problems } = zonesOf([
      polygon(SQUARE, {
        active: [
          { from: '2026-06-14 06:00 Z', until: '2026-06-14 08:00 Z' },
          { days: ['TUE', 'mon', 'Friday'], from: '07:30', until: '24:00', clock: '-07:00' },
          { days: 'ANY', from: 'sunset', until: 'sunrise', since: '2026-03-01 00:00 Z' },
          { untold: 'as the range says by telephone' },
        ],
      }),
    ]);
    expect(problems).toEqual([]);
    expect(zones[0]?.active).toEqual([
      { from: Date.UTC(2026, 5, 14, 6), until: Date.UTC(2026, 5, 14, 8) },
      {
        weekly: [
          {
            days: ['MON', 'TUE', 'FRI'],
            from: { clock: 27_000, offsetMinutes: -420 },
            until: { clock: 86_400, offsetMinutes: -420 },
          },
        ],
      },
      {
        from: Date.UTC(2026, 2, 1),
        weekly: [
          {
            days: ['MON', 'TUE', 'WED', 'THU', 'FRI', 'SAT', 'SUN'],
            from: { event: 'sunset' },
            until: { event: 'sunrise' },
          },
        ],
      },
      { untold: 'as the range says by telephone' },
    ]);
  });

  test('holes, several polygons, a third coordinate and a ring left open are read', () => {
    const hole = [
      [10.02, 47.02],
      [10.04, 47.02],
      [10.04, 47.04],
    ];
    const feature = {
      type: 'Feature',
      id: 12,
      properties: PROPERTIES,
      geometry: {
        type: 'MultiPolygon',
        coordinates: [
          [SQUARE, hole],
          [
            [
              [12, 47, 300],
              [12.1, 47, 300],
              [12.1, 47.1, 300],
            ],
          ],
        ],
      },
    };
    const { zones, problems } = zonesOf([feature]);
    expect(problems).toEqual([]);
    expect(zones[0]?.id).toBe('12');
    expect(zones[0]?.box).toEqual({ west: 10, south: 47, east: 12.1, north: 47.1 });
  });

  test('a ring across the 180° meridian has a box that crosses it too', () => {
    const { zones, problems } = zonesOf([
      polygon([
        [179, 10],
        [-179, 10],
        [-179, 11],
        [179, 11],
        [179, 10],
      ]),
    ]);
    expect(problems).toEqual([]);
    expect(zones[0]?.box).toEqual({ west: 179, south: 10, east: -179, north: 11 });
  });

  test('a ring round the whole world has a box of the whole world', () => {
    const { zones, problems } = zonesOf([
      polygon([
        [-180, -90],
        [180, -90],
        [180, 90],
        [-180, 90],
        [-180, -90],
      ]),
    ]);
    expect(problems).toEqual([]);
    expect(zones[0]?.box).toEqual({ west: -180, south: -90, east: 180, north: 90 });
  });

  test('a ring that touches itself in one corner is whole', () => {
    const eight = [
      [10, 47],
      [10.1, 47],
      [10.05, 47.05],
      [10.1, 47.1],
      [10, 47.1],
      [10.05, 47.05],
      [10, 47],
    ];
    expect(zonesOf([polygon(eight)])).toMatchObject({ problems: [], uncovered: [] });
  });
});

const BOX = { west: 10, south: 47, east: 10.1, north: 47.1 };

describe('features that cannot be used are told, leave a gap and cost nothing else', () => {
  test.each([
    [
      'a ring of two corners',
      polygon([
        [10, 47],
        [10.1, 47],
        [10, 47],
      ]),
      'fewer than three corners',
      'everywhere',
    ],
    [
      'no numbers',
      polygon([
        [10, 47],
        ['a', 47],
        [10, 48],
      ]),
      'not two numbers',
      'everywhere',
    ],
    ['null coordinates', polygon(null), 'ring that is not a list', 'everywhere'],
    [
      'axes swapped beyond doubt',
      polygon([
        [47, -120],
        [48, -120],
        [47, -121],
      ]),
      'latitude and longitude swapped',
      'everywhere',
    ],
    [
      'a position off the globe',
      polygon([
        [10, 47],
        [300, 200],
        [10, 48],
      ]),
      'outside longitude',
      'everywhere',
    ],
    [
      'a ring round a pole',
      polygon([
        [0, 80],
        [120, 80],
        [-120, 80],
        [0, 80],
      ]),
      'round a pole',
      'everywhere',
    ],
    ['no kind', polygon(SQUARE, { kind: 'forbidden' }), 'no "kind" out of', BOX],
    ['controlled without a class', polygon(SQUARE, { kind: 'controlled' }), 'without a "class"', BOX],
    ['no ceiling', polygon(SQUARE, { ceiling: null }), 'has no ceiling', BOX],
    ['a bare number', polygon(SQUARE, { ceiling: 1500 }), 'no text with unit and datum', BOX],
    ['a height without datum', polygon(SQUARE, { ceiling: '1500 ft' }), '"1500 ft" that could not be read', BOX],
    ['a flight level beyond all that is published', polygon(SQUARE, { ceiling: 'FL 661' }), 'could not be read', BOX],
    [
      'flight levels upside down',
      polygon(SQUARE, { floor: 'FL 75', ceiling: 'FL 65' }),
      'floor at or above its ceiling',
      BOX,
    ],
    [
      'a weekly time without a clock',
      polygon(SQUARE, { active: [{ days: 'MON', from: '08:00', until: '18:00' }] }),
      'without "clock"',
      BOX,
    ],
    [
      'a weekly time on no day',
      polygon(SQUARE, { active: [{ days: ['HOL'], from: '08:00', until: '18:00', clock: 'UTC' }] }),
      'none of MON to SUN',
      BOX,
    ],
    [
      'a weekly time at no time of day',
      polygon(SQUARE, { active: [{ days: ['MON'], from: '25:00', until: '18:00', clock: 'UTC' }] }),
      'time of day that could not be read',
      BOX,
    ],
    ['a time that is untold without words', polygon(SQUARE, { active: [{ untold: ' ' }] }), '"untold"', BOX],
    ['a height above take-off', polygon(SQUARE, { ceiling: '60 m above take-off' }), 'neither ground nor sea', BOX],
    ['floor over ceiling', polygon(SQUARE, { floor: '1600 ft AMSL' }), 'floor at or above its ceiling', BOX],
    ['an unreadable time', polygon(SQUARE, { active: [{ from: 'noon', until: 'later' }] }), 'time of activity', BOX],
    [
      'a time that ends before it starts',
      polygon(SQUARE, { active: [{ from: '2026-06-14 08:00 Z', until: '2026-06-14 06:00 Z' }] }),
      'ends before it starts',
      BOX,
    ],
    ['a point without radius', point([10, 47]), 'without a readable radius', 'everywhere'],
    ['a point with a bare radius', point([10, 47], { radius: 500 }), 'without a readable radius', 'everywhere'],
    ['no geometry', { type: 'Feature', properties: PROPERTIES, geometry: null }, 'has no geometry', 'everywhere'],
    [
      'a line',
      { type: 'Feature', properties: PROPERTIES, geometry: { type: 'LineString', coordinates: SQUARE } },
      'neither Polygon',
      'everywhere',
    ],
    ['no feature at all', 7, 'not a GeoJSON Feature', 'everywhere'],
  ])('%s', (_, feature, reason, uncovered) => {
    const file = zonesOf([feature, polygon(SQUARE, { name: 'sound' })]);
    expect(file.zones.map(({ name }) => name)).toEqual(['sound']);
    expect(file.problems).toHaveLength(1);
    expect(file.problems[0]).toContain(reason);
    expect(file.problems[0]).toMatch(/^has a fault: feature 1/);
    expect(file.uncovered).toEqual([uncovered]);
  });

  test('a ring that crosses itself still counts as a zone, and its ground as uncovered', () => {
    const bow = [
      [10, 47],
      [10.1, 47.1],
      [10.1, 47],
      [10, 47.1],
      [10, 47],
    ];
    const file = zonesOf([polygon(bow)]);
    expect(file.zones).toHaveLength(1);
    expect(file.problems[0]).toContain('crosses itself');
    expect(file.uncovered).toEqual([BOX]);
  });

  test('a small loop in a ring leaves its own ground open, and no more', () => {
    const kinked = [
      [10, 47],
      [10.1, 47],
      [10.1, 47.1],
      [10.049, 47.1],
      [10.051, 47.099],
      [10.051, 47.101],
      [10, 47.1],
      [10, 47],
    ];
    const file = zonesOf([polygon(kinked)]);
    expect(file.zones).toHaveLength(1);
    expect(file.problems).toEqual([]);
    expect(file.uncovered).toHaveLength(1);
    const [loop] = file.uncovered;
    if (loop === undefined || loop === 'everywhere') throw new Error('no loop');
    expect(loop.west).toBeGreaterThanOrEqual(10.049);
    expect(loop.east).toBe(10.051);
    expect(loop.south).toBe(47.099);
    expect(loop.north).toBe(47.1);
  });

  test('axes that only make sense swapped, seen from the ground the file covers', () => {
    const swapped = SQUARE.map(([lon, lat]) => [lat, lon]);
    const file = zonesOf([polygon(swapped)], { covers: [9, 46, 11, 48] });
    expect(file.zones).toEqual([]);
    expect(file.problems[0]).toContain('swapped');
  });

  test('one fault of many features is told once', () => {
    const file = zonesOf(Array.from({ length: 500 }, () => polygon(SQUARE, { ceiling: '1500 ft' })));
    expect(file.problems).toEqual([
      'has a fault: feature 1 ("quarry") and 499 more: each has a ceiling "1500 ft" that could not be read; write it as in "1500 ft AMSL"',
    ]);
    expect(file.uncovered).toHaveLength(500);
  });
});

describe('files that are no airspace', () => {
  test.each([
    ['', 'is empty'],
    ['{', 'is not JSON'],
    ['\u0000\u0001', 'is not JSON'],
    ['[]', 'not a GeoJSON FeatureCollection'],
    ['null', 'not a GeoJSON FeatureCollection'],
    ['{"type":"FeatureCollection"}', 'not a GeoJSON FeatureCollection'],
    [
      '{"type":"FeatureCollection","features":[],"crs":{"type":"name","properties":{"name":"EPSG:3857"}}}',
      'coordinate system',
    ],
    ['{"type":"FeatureCollection","features":[],"covers":[1,2,3]}', '"covers"'],
    ['{"type":"FeatureCollection","features":[],"covers":[1,95,3,96]}', '"covers"'],
    ['['.repeat(200_000), 'is not JSON'],
  ])('%#', (text, problem) => {
    const file = readZones(text);
    expect(file.zones).toEqual([]);
    expect(file.problems.join()).toContain(problem);
    expect(file.covers).toBeUndefined();
  });

  test('a byte order mark and the plain coordinate system of old files are no fault', () => {
    const text =
      '\uFEFF{"type":"FeatureCollection","features":[],"crs":{"properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}}}';
    expect(readZones(text).problems).toEqual([]);
  });
});

describe('cells of a grid, and zones that bar a part of flight', () => {
  test('a cell has no limits in height, and says up to which height it grants', () => {
    const file = zonesOf([polygon(SQUARE, { kind: 'cell', grid: 'north', floor: undefined, ceiling: '0 ft AGL' })]);
    expect(file.problems).toEqual([]);
    expect(file.zones[0]).toMatchObject({
      kind: 'cell',
      floor: 'surface',
      ceiling: 'unlimited',
      grants: { grid: 'north', upTo: { aboveGround: 0 } },
    });
  });

  test('a zone may bar take-off and landing only', () => {
    const file = zonesOf([polygon(SQUARE, { bars: 'take-off and landing' })]);
    expect(file.zones[0]?.bars).toBe('take-off and landing');
  });

  test.each([
    ['a cell without a grid', { kind: 'cell', ceiling: '200 ft AGL' }, '"grid"'],
    ['a cell without a height', { kind: 'cell', grid: 'north', ceiling: 'unlimited' }, 'above ground or sea'],
    ['a cell with a bare height', { kind: 'cell', grid: 'north', ceiling: 200 }, 'ceiling'],
    ['something else that is barred', { bars: 'picnics' }, '"bars"'],
  ])('%s is told, and its ground is uncovered', (_, properties, reason) => {
    const file = zonesOf([polygon(SQUARE, properties)]);
    expect(file.zones).toEqual([]);
    expect(file.problems[0]).toContain(reason);
    expect(file.uncovered).toHaveLength(1);
  });
});
