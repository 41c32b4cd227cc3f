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
