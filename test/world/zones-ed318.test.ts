import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { readZones, type ZonesFile } from '../../server/src/world/zones-geojson.ts';
import { readProject } from '../support/project.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const SQUARE = [
  [10, 47],
  [10.1, 47],
  [10.1, 47.1],
  [10, 47.1],
  [10, 47],
];
const BOX = { west: 10, south: 47, east: 10.1, north: 47.1 };
const LAYER = { lower: 0, lowerReference: 'AGL', upper: 120, upperReference: 'AGL', uom: 'm' };
const GEOMETRY = { type: 'Polygon', coordinates: [SQUARE], layer: LAYER };
const PROPERTIES = {
  identifier: 'TST0001',
  country: 'AUT',
  name: [{ text: 'quarry', lang: 'en-GB' }],
  type: 'REQ_AUTHORIZATION',
  variant: 'COMMON',
  zoneAuthority: [{ purpose: 'AUTHORIZATION' }],
};

const zone = (properties: object = {}, geometry: unknown = GEOMETRY): object => ({
  type: 'Feature',
  geometry,
  properties: { ...PROPERTIES, ...properties },
});
const collection = (features: readonly unknown[], more: object = {}): ZonesFile =>
  readZones(JSON.stringify({ type: 'FeatureCollection', ...more, features }));
const applying = (...limitedApplicability: readonly unknown[]): ZonesFile =>
  collection([zone({ limitedApplicability })]);

describe('a geographical zone of ED-318', () => {
  test.each([
    ['PROHIBITED', 'prohibited'],
    ['REQ_AUTHORIZATION', 'authorisation'],
    ['CONDITIONAL', 'conditional'],
    ['USPACE', 'u-space'],
    ['NO_RESTRICTION', 'none'],
  ])('%s', (type, restriction) => {
    expect(collection([zone({ type })])).toMatchObject({
      problems: [],
      uncovered: [],
      zones: [{ id: 'TST0001', name: 'quarry', kind: 'geographical', restriction, box: BOX }],
    });
  });

  test.each([
    [{ ...LAYER, lower: 50 }, { aboveGround: 50 }, { aboveGround: 120 }],
    [{ ...LAYER, lower: -5 }, 'surface', { aboveGround: 120 }],
    [
      { lower: 500, lowerReference: 'AMSL', upper: 1000, upperReference: 'AMSL', uom: 'ft' },
      { aboveSea: 152.4 },
      { aboveSea: 304.8 },
    ],
    [
      { lower: 450, lowerReference: 'WGS84', upper: 600, upperReference: 'WGS84' },
      { aboveEllipsoid: 450 },
      { aboveEllipsoid: 600 },
    ],
    [{ upper: 120, upperReference: 'AGL' }, 'surface', { aboveGround: 120 }],
    [{ lower: 50, lowerReference: 'AGL' }, { aboveGround: 50 }, 'unlimited'],
    [undefined, 'surface', 'unlimited'],
  ])('from %j', (layer, floor, ceiling) => {
    const { zones, problems } = collection([zone({}, { type: 'Polygon', coordinates: [SQUARE], layer })]);
    expect(problems).toEqual([]);
    expect(zones).toMatchObject([{ floor, ceiling }]);
  });

  test('the words of the authority stay as they are, English where there is a choice', () => {
    const { zones } = collection([
      zone({
        name: [
          { text: 'Steinbruch', lang: 'de-AT' },
          { text: 'Quarry', lang: 'en-GB' },
        ],
        message: [{ text: 'Sprengung:  Funk  hören!', lang: 'de-AT' }],
        restrictionConditions: 'VLOS < 50 m',
      }),
    ]);
    expect(zones[0]?.name).toBe('Quarry');
    expect(zones[0]?.text).toBe('Sprengung:  Funk  hören! / VLOS < 50 m');
  });

  test('several layers are zones that know of each other; one layer knows of none', () => {
    const both = {
      type: 'GeometryCollection',
      geometries: [GEOMETRY, { ...GEOMETRY, layer: { ...LAYER, lower: 120, upper: 300 } }],
    };
    const { zones } = collection([zone({}, both), zone()]);
    expect(zones).toHaveLength(3);
    expect(zones[0]?.layerOf).toBeDefined();
    expect(zones[0]?.layerOf).toBe(zones[1]?.layerOf);
    expect(zones[2]?.layerOf).toBeUndefined();
  });

  test('a layer of the whole collection holds for geometries without one', () => {
    const { coordinates, type } = GEOMETRY;
    const { zones } = collection([
      zone({}, { type: 'GeometryCollection', layer: LAYER, geometries: [{ type, coordinates }] }),
    ]);
    expect(zones).toMatchObject([{ floor: 'surface', ceiling: { aboveGround: 120 } }]);
  });

  test('the validity and the day of issue of the collection are read', () => {
    const metadata = {
      validFrom: '2027-01-01T00:00:00Z',
      validTo: '2027-06-30T22:00:00Z',
      issued: '2026-12-20T08:00:00Z',
    };
    expect(collection([zone()], { metadata })).toMatchObject({
      problems: [],
      edition: 'issued 2026-12-20',
      holds: { from: Date.UTC(2027, 0, 1), until: Date.UTC(2027, 5, 30, 22) },
    });
    expect(collection([zone()], { metadata: { validTo: 'soon' } }).problems).toEqual([
      'has metadata whose "validFrom" or "validTo" could not be read',
    ]);
  });
});

describe('when it applies', () => {
  const WEEK = ['MON', 'TUE', 'WED', 'THU', 'FRI', 'SAT', 'SUN'];

  test('always, where nothing limits it', () => {
    expect(collection([zone()]).zones[0]?.active).toBeUndefined();
    expect(applying().zones[0]?.active).toBeUndefined();
  });

  test('between two instants, and in a schedule of days, times and events of the sun', () => {
    const { zones, problems } = applying({
      startDateTime: '2027-01-01T00:00:00Z',
      endDateTime: '2027-12-31T24:00:00+01:00',
      schedule: [
        { day: ['ANY'], startTime: '16:00:00Z', endTime: '17:00:00+01:00' },
        { day: ['SUN', 'SAT'], startEvent: 'BMCT', endEvent: 'EECT' },
        { day: ['WED'], startEvent: 'SR', endEvent: 'SS' },
      ],
    });
    expect(problems).toEqual([]);
    expect(zones[0]?.active).toEqual([
      {
        from: Date.UTC(2027, 0, 1),
        until: Date.UTC(2027, 11, 31, 23),
        weekly: [
          { days: WEEK, from: { clock: 57_600, offsetMinutes: 0 }, until: { clock: 61_200, offsetMinutes: 60 } },
          { days: ['SAT', 'SUN'], from: { event: 'morning twilight' }, until: { event: 'evening twilight' } },
          { days: ['WED'], from: { event: 'sunrise' }, until: { event: 'sunset' } },
        ],
      },
    ]);
  });

  test('a whole day is that of universal and of local time', () => {
    expect(applying({ schedule: [{ day: ['SUN'] }] }).zones[0]?.active).toEqual([
      {
        weekly: [0, 'local'].map((offsetMinutes) => ({
          days: ['SUN'],
          from: { clock: 0, offsetMinutes },
          until: { clock: 86_400, offsetMinutes },
        })),
      },
    ]);
  });

  test.each([
    ['a time without offset', { schedule: [{ day: ['ANY'], startTime: '16:00:00', endTime: '17:00:00Z' }] }],
    ['an unknown day', { schedule: [{ day: ['HOL'], startTime: '16:00:00Z', endTime: '17:00:00Z' }] }],
    ['no day', { schedule: [{ startTime: '16:00:00Z', endTime: '17:00:00Z' }] }],
    ['an unknown event', { schedule: [{ day: ['ANY'], startEvent: 'NOON', endEvent: 'SS' }] }],
    ['a time and an event', { schedule: [{ day: ['ANY'], startEvent: 'SR', startTime: '06:00:00Z' }] }],
    ['a date without time', { startDateTime: '2027-01-01' }],
    ['an end before the start', { startDateTime: '2027-01-02T00:00:00Z', endDateTime: '2027-01-01T00:00:00Z' }],
    ['no period', 'always'],
  ])('%s leaves the zone in place at untold times, tells it once and leaves a gap', (_, period) => {
    const file = applying(period);
    expect(file.zones).toMatchObject([{ id: 'TST0001', active: [{ untold: 'at times that could not be read' }] }]);
    expect(file.problems).toHaveLength(1);
    expect(file.uncovered).toEqual([BOX]);
  });
});

describe('what is invalid is told and leaves a gap of its own size', () => {
  test.each<[string, unknown, string, unknown]>([
    ['an unknown type', zone({ type: 'CLOSED' }), 'no "type" out of', [BOX]],
    ['no identifier', zone({ identifier: undefined }), 'no "identifier"', [BOX]],
    ['no properties', { type: 'Feature', geometry: GEOMETRY, properties: null }, 'no properties', [BOX]],
    ['no geometry', zone({}, null), 'has no geometry', ['everywhere']],
    [
      'a point without extent',
      zone({}, { type: 'Point', coordinates: [10, 47], layer: LAYER }),
      'extent',
      ['everywhere'],
    ],
    [
      'a circle of no size',
      zone({}, { type: 'Point', coordinates: [10, 47], extent: { subType: 'Circle', radius: 0 }, layer: LAYER }),
      'without a readable radius',
      ['everywhere'],
    ],
    ['a line', zone({}, { type: 'LineString', coordinates: SQUARE }), 'neither Polygon', ['everywhere']],
    [
      'a limit that is text',
      zone({}, { ...GEOMETRY, layer: { ...LAYER, upper: '120' } }),
      'upper limit is no number',
      [BOX],
    ],
    [
      'a limit without reference',
      zone({}, { ...GEOMETRY, layer: { lower: 0, lowerReference: 'AGL', upper: 120 } }),
      'upper limit counts from none of',
      [BOX],
    ],
    ['a unknown unit', zone({}, { ...GEOMETRY, layer: { ...LAYER, uom: 'FL' } }), 'neither m nor ft', [BOX]],
    [
      'a layer upside down',
      zone({}, { ...GEOMETRY, layer: { ...LAYER, lower: 130 } }),
      'at or above its ceiling',
      [BOX],
    ],
    [
      'an empty collection',
      zone({}, { type: 'GeometryCollection', geometries: [] }),
      'without geometries',
      ['everywhere'],
    ],
  ])('%s', (_, feature, reason, uncovered) => {
    const file = collection([feature, zone({ identifier: 'SOUND' })]);
    expect(file.zones.map(({ id }) => id)).toEqual(['SOUND']);
    expect(file.problems).toHaveLength(1);
    expect(file.problems[0]).toContain(reason);
    expect(file.uncovered).toEqual(uncovered);
  });

  test.each(['country', 'variant', 'zoneAuthority'])('without %s the zone counts all the same', (key) => {
    const file = collection([zone({ [key]: undefined }), zone({ identifier: 'SOUND' })]);
    expect(file.zones.map(({ id }) => id)).toEqual(['TST0001', 'SOUND']);
    expect(file.problems).toEqual([`has a fault: zone 1 ("TST0001") has no valid "${key}", which ED-318 requires`]);
    expect(file.uncovered).toEqual([BOX]);
  });

  test('one bad layer costs only itself', () => {
    const bad = { ...GEOMETRY, layer: { ...LAYER, uom: 'furlong' } };
    const file = collection([zone({}, { type: 'GeometryCollection', geometries: [GEOMETRY, bad] })]);
    expect(file.zones).toHaveLength(1);
    expect(file.uncovered).toEqual([BOX]);
  });
});

test('the sample collection is read whole', () => {
  const file = readZones(readProject('samples/world/weir-geozones.json'));
  expect(file).toMatchObject({ problems: [], uncovered: [], edition: 'issued 2027-05-30' });
  expect(file.zones.map(({ id, restriction }) => `${id} ${restriction}`)).toEqual([
    'WRC0001 authorisation',
    'WRC0001 authorisation',
    'WRC0002 prohibited',
  ]);
});

const EXAMPLES = 'airspace/ed318/examples';
const ABSENT = !hasReferenceData(EXAMPLES);

describe(`the examples published with the schema of ED-318 (${NEEDS_REFERENCE_DATA})`, () => {
  const read = (name: string): ZonesFile => readZones(readFileSync(inReferenceData(`${EXAMPLES}/${name}`), 'utf8'));

  test.skipIf(ABSENT)('the collection has a zone of two layers and a circle', () => {
    const file = read('Example_Collection.json');
    expect(file).toMatchObject({ problems: [], uncovered: [], holds: { from: Date.UTC(2018, 11, 31, 15, 59, 59) } });
    // Figures as the file prints them: 50-150 m and 0-50 m above ground; circle of 3500 m at 50.122901 N 2.636866 E.
    expect(file.zones).toMatchObject([
      { id: 'NFZ6547', name: 'LFPG-2', floor: { aboveGround: 50 }, ceiling: { aboveGround: 150 } },
      { id: 'NFZ6547', floor: 'surface', ceiling: { aboveGround: 50 } },
      {
        id: 'ABC1234',
        restriction: 'prohibited',
        shape: { kind: 'circle', centre: { lon: 2.636866, lat: 50.122901 }, radius: 3500 },
        floor: { aboveGround: 50 },
        ceiling: { aboveGround: 150 },
      },
    ]);
    expect(file.zones[0]?.active).toMatchObject([
      { until: Date.UTC(2019, 11, 31, 15, 59, 59), weekly: [{}, { days: ['SUN'] }] },
    ]);
  });

  test.skipIf(ABSENT).each(['Example_GeoZone_Circle.json', 'Example_GeoZone_with_extension.json'])('%s', (name) => {
    expect(read(name)).toMatchObject({ problems: [], uncovered: [], zones: [{ id: 'ABC1234' }] });
  });
});
