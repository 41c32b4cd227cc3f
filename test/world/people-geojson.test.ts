import { describe, expect, test } from 'vitest';
import { distance } from '../../server/src/geo/geodesy.ts';
import { insideShape } from '../../server/src/geo/shape.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { readPeopleFile } from '../../server/src/world/people-geojson.ts';
import { readRunways } from '../../server/src/world/runways-geojson.ts';

const fileOf = (features: readonly unknown[], members: object = {}): string =>
  JSON.stringify({ type: 'FeatureCollection', edition: '7', ...members, features });
const feature = (properties: unknown, geometry: unknown): object => ({ type: 'Feature', properties, geometry });
const point = (lon: number, lat: number) => ({ type: 'Point', coordinates: [lon, lat] });

describe('areas with people', () => {
  test('a road is the strip along its line, on both sides of each piece and round its bends', () => {
    const line = {
      type: 'LineString',
      coordinates: [
        [10, 47],
        [10, 47.01],
        [10.01, 47.01],
      ],
    };
    const { areas, problems } = readPeopleFile(fileOf([feature({ name: 'road', kind: 'road', width: '20 m' }, line)]));
    expect(problems).toEqual([]);
    const [road] = areas;
    if (road === undefined) throw new Error('the road is read');
    // 0.0001° of longitude are 7.6 m at this latitude, 0.0002° are 15.2 m.
    expect(insideShape(road.shape, lonLat(10.0001, 47.005))).toBe(true);
    expect(insideShape(road.shape, lonLat(9.9999, 47.005))).toBe(true);
    expect(insideShape(road.shape, lonLat(10.0002, 47.005))).toBe(false);
    expect(distance(lonLat(10, 47.005), lonLat(10.0002, 47.005))).toBeGreaterThan(10);
    expect(insideShape(road.shape, lonLat(9.99995, 47.01005))).toBe(true);
    expect(insideShape(road.shape, lonLat(10.005, 47.0101))).toBe(false);
  });

  test.each([
    ['no kind', feature({ name: 'fair', radius: '40 m' }, point(10, 47)), '"kind"'],
    [
      'a status of another word',
      feature({ kind: 'people', status: 'asleep', radius: '4 m' }, point(10, 47)),
      '"status"',
    ],
    ['a point without a radius', feature({ kind: 'people' }, point(10, 47)), 'radius'],
    [
      'a line without a width',
      feature(
        { kind: 'road' },
        {
          type: 'LineString',
          coordinates: [
            [10, 47],
            [10, 48],
          ],
        },
      ),
      '"width"',
    ],
    [
      'a line of one place',
      feature({ kind: 'road', width: '8 m' }, { type: 'LineString', coordinates: [[10, 47]] }),
      'fewer than two',
    ],
    [
      'a ring of two points',
      feature(
        { kind: 'people' },
        {
          type: 'Polygon',
          coordinates: [
            [
              [10, 47],
              [11, 47],
              [10, 47],
            ],
          ],
        },
      ),
      'fewer than three',
    ],
    [
      'a position that is no number',
      feature({ kind: 'people', radius: '4 m' }, { type: 'Point', coordinates: ['x', 47] }),
      'two numbers',
    ],
    ['no feature at all', 17, 'not a GeoJSON Feature'],
  ])('%s is told and the rest is kept', (_, faulty, reason) => {
    const file = readPeopleFile(
      fileOf([faulty, feature({ name: 'other', kind: 'people', radius: '4 m' }, point(10, 47))]),
    );
    expect(file.areas.map(({ name }) => name)).toEqual(['other']);
    expect(file.problems.join()).toContain(reason);
    expect(file.whole).toBe(false);
  });

  test('axes that are swapped, seen from the ground the file covers, are told', () => {
    const swapped = feature({ name: 'fair', kind: 'people', radius: '4 m' }, point(47, 10));
    const file = readPeopleFile(fileOf([swapped], { covers: [9, 46, 11, 48] }));
    expect(file.areas).toEqual([]);
    expect(file.problems.join()).toContain('swapped');
  });

  test.each(['', 'not JSON', '[]', '{"type":"Feature"}', 'null', '\u0000\u0001'])(
    '%j is told and is no file',
    (text) => {
      expect(readPeopleFile(text)).toMatchObject({ areas: [], whole: false });
      expect(readRunways(text)).toMatchObject({ runways: [], whole: false });
    },
  );
});

describe('runways', () => {
  const ends = {
    type: 'LineString',
    coordinates: [
      [10, 47],
      [10.01, 47],
    ],
  };

  test.each([
    ['no airport', feature({ 'surface-class': 'D' }, ends), '"airport"'],
    ['no class', feature({ airport: 'Lakes Field' }, ends), '"surface-class"'],
    [
      'a line with a bend',
      feature(
        { airport: 'Lakes Field', 'surface-class': 'D' },
        {
          type: 'LineString',
          coordinates: [
            [10, 47],
            [10.01, 47],
            [10.02, 47],
          ],
        },
      ),
      'two ends',
    ],
    [
      'both ends at one place',
      feature(
        { airport: 'Lakes Field', 'surface-class': 'D' },
        {
          type: 'LineString',
          coordinates: [
            [10, 47],
            [10, 47],
          ],
        },
      ),
      'one place',
    ],
    ['a point', feature({ airport: 'Lakes Field', 'surface-class': 'D' }, point(10, 47)), 'LineString'],
  ])('%s is told and the rest is kept', (_, faulty, reason) => {
    const file = readRunways(fileOf([faulty, feature({ airport: 'North', 'surface-class': 'C' }, ends)]));
    expect(file.runways.map(({ airport }) => airport)).toEqual(['North']);
    expect(file.problems.join()).toContain(reason);
    expect(file.whole).toBe(false);
  });
});
