import { describe, expect, test } from 'vitest';
import { readObstacles } from '../../server/src/world/obstacles-geojson.ts';

describe('obstacles', () => {
  const mast = (properties: object, coordinates: unknown = [10, 47]): object => ({
    type: 'Feature',
    properties,
    geometry: { type: 'Point', coordinates },
  });
  const obstaclesOf = (features: readonly unknown[]) =>
    readObstacles(JSON.stringify({ type: 'FeatureCollection', edition: '7', features }));

  test('points with a top and, where they have an extent, a radius', () => {
    const file = obstaclesOf([
      mast({ name: 'mast', top: '85 m AGL' }),
      mast({ name: 'hall', top: '1500 ft AMSL', radius: '30 m' }),
    ]);
    expect(file).toEqual({
      obstacles: [
        { name: 'mast', at: { lon: 10, lat: 47 }, radius: 0, top: { aboveGround: 85 } },
        { name: 'hall', at: { lon: 10, lat: 47 }, radius: 30, top: { aboveSea: 1500 * 0.3048 } },
      ],
      problems: [],
      whole: true,
      edition: '7',
    });
  });

  test('a polygon is a footprint; its top stands inside it', () => {
    const ring = [
      [10, 47],
      [10.002, 47],
      [10.002, 47.001],
      [10, 47.001],
      [10, 47],
    ];
    const file = obstaclesOf([
      {
        type: 'Feature',
        properties: { name: 'hall', top: '20 m AGL', structure: true, guyWires: false },
        geometry: { type: 'Polygon', coordinates: [ring] },
      },
    ]);
    expect(file.problems).toEqual([]);
    const [hall] = file.obstacles;
    expect(hall).toMatchObject({ structure: true, guyWires: false, footprint: { length: 4 } });
    expect(hall?.at.lon).toBeCloseTo(10.001, 9);
    expect(hall?.at.lat).toBeCloseTo(47.0005, 9);
    // Half of the diagonal of 152 m by 111 m.
    expect(hall?.radius).toBeGreaterThan(94);
    expect(hall?.radius).toBeLessThan(94.3);
  });

  test.each([
    [
      'a footprint with a hole',
      {
        type: 'Polygon',
        coordinates: [
          [
            [10, 47],
            [10.1, 47],
            [10, 47.1],
          ],
          [
            [10.01, 47.01],
            [10.02, 47.01],
            [10.01, 47.02],
          ],
        ],
      },
      {},
      'holes',
    ],
    [
      'a footprint of two corners',
      {
        type: 'Polygon',
        coordinates: [
          [
            [10, 47],
            [10.1, 47],
          ],
        ],
      },
      {},
      'three corners',
    ],
    [
      'a line',
      {
        type: 'LineString',
        coordinates: [
          [10, 47],
          [10.1, 47],
        ],
      },
      {},
      'neither a Point nor a Polygon',
    ],
    ['a structure that is no yes or no', { type: 'Point', coordinates: [10, 47] }, { structure: 'yes' }, '"structure"'],
  ])('%s is told', (_, geometry, more, reason) => {
    const file = obstaclesOf([{ type: 'Feature', properties: { top: '20 m AGL', ...more }, geometry }]);
    expect(file.obstacles).toEqual([]);
    expect(file.problems[0]).toContain(reason);
    expect(file.whole).toBe(false);
  });

  test.each([
    ['no top', mast({ name: 'mast' }), '"top"'],
    ['a bare top', mast({ name: 'mast', top: 85 }), '"top"'],
    ['a top above take-off', mast({ name: 'mast', top: '60 m above take-off' }), 'neither ground nor sea'],
    ['a bare radius', mast({ name: 'mast', top: '85 m AGL', radius: 12 }), '"radius"'],
    ['no place', mast({ name: 'mast', top: '85 m AGL' }, [10]), 'position'],
  ])('%s is told and the rest is kept', (_, feature, reason) => {
    const file = obstaclesOf([feature, mast({ name: 'other', top: '10 m AGL' })]);
    expect(file.obstacles.map(({ name }) => name)).toEqual(['other']);
    expect(file.problems[0]).toContain(reason);
    expect(file.whole).toBe(false);
  });
});
