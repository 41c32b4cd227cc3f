import { describe, expect, test } from 'vitest';
import { lineParts, type Position, shapeParts } from '../../server/src/cli/formats/geojson-rings.ts';
import { lonLat, metres } from '../../server/src/units/frames.ts';
import { call, EVENING } from '../support/command-line.ts';

interface Feature {
  readonly type: string;
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
  readonly properties: Readonly<Record<string, unknown>>;
}

const collection = async (...paths: readonly string[]): Promise<readonly Feature[]> => {
  const { out } = await call(['check', '--now', EVENING, '--format', 'geojson', ...paths]);
  const read = JSON.parse(out) as { type: string; features: Feature[] };
  expect(read.type).toBe('FeatureCollection');
  return read.features;
};

/** Twice the area, positive counterclockwise. */
const winding = (ring: readonly Position[]): number =>
  ring.slice(1).reduce((sum, [x, y], i) => sum + (ring[i]?.[0] ?? 0) * y - x * (ring[i]?.[1] ?? 0), 0);

const rings = (polygons: readonly (readonly (readonly Position[])[])[]): readonly (readonly Position[])[] =>
  polygons.flat();

const inRange = (positions: readonly Position[]): boolean =>
  positions.every(([lon, lat]) => Math.abs(lon) <= 180 && Math.abs(lat) <= 90);

describe('the map of a run', () => {
  test('has the legs, items, areas, zones and findings of each plan, each with a name', async () => {
    const features = await collection('samples');
    const layers = new Set(features.map(({ properties }) => properties['layer']));
    expect([...layers].sort()).toEqual(['area', 'finding', 'item', 'leg', 'not assessed', 'zone']);
    for (const { type, properties } of features) {
      expect(type).toBe('Feature');
      expect(properties['name']).toMatch(/\S/);
      expect(properties['plan']).toMatch(/^samples\//);
    }
  });

  test('shows no less than the report: what has no place is a feature without geometry', async () => {
    const path = 'samples/missions/many-faults.mission.yaml';
    const features = await collection(path);
    const { out } = await call(['check', '--now', EVENING, '--format', 'json', path]);
    const [plan] = (JSON.parse(out) as { plans: { findings: { message: string; place?: unknown }[] }[] }).plans;
    const drawn = features.filter(({ properties }) => properties['layer'] === 'finding');
    expect(drawn.map(({ properties }) => properties['message'])).toEqual(plan?.findings.map(({ message }) => message));
    expect(drawn.map(({ geometry }) => geometry !== null)).toEqual(
      plan?.findings.map(({ place }) => place !== undefined),
    );
  });

  test('has positions of two numbers: the third would be a height above the ellipsoid (RFC 7946, 3.1.1)', async () => {
    const positions = (coordinates: unknown): readonly unknown[][] =>
      Array.isArray(coordinates) && typeof coordinates[0] === 'number'
        ? [coordinates]
        : (coordinates as unknown[]).flatMap(positions);
    for (const { geometry } of await collection('samples')) {
      for (const position of geometry === null ? [] : positions(geometry.coordinates)) expect(position).toHaveLength(2);
    }
  });

  test('has a path that could not be opened', async () => {
    const [feature] = await collection('samples/gone.mission.yaml');
    expect(feature).toMatchObject({ geometry: null, properties: { layer: 'not opened' } });
  });
});

describe('rings and lines (RFC 7946)', () => {
  const square = (west: number, east: number) => [lonLat(west, -1), lonLat(west, 1), lonLat(east, 1), lonLat(east, -1)];

  test('outer rings run counterclockwise, holes clockwise, and both are closed (3.1.6)', () => {
    const [outer, hole] = rings(
      shapeParts({ kind: 'polygons', polygons: [[square(0, 4), [...square(1, 2)].reverse()]] }),
    );
    expect(winding(outer ?? [])).toBeGreaterThan(0);
    expect(winding(hole ?? [])).toBeLessThan(0);
    for (const ring of [outer, hole]) expect(ring?.at(-1)).toEqual(ring?.[0]);
  });

  test('a circle has all its corners at its radius, counterclockwise', () => {
    const [ring = []] = rings(shapeParts({ kind: 'circle', centre: lonLat(-120, 47), radius: metres(1000) }));
    expect(ring).toHaveLength(65);
    expect(winding(ring)).toBeGreaterThan(0);
    // A degree of latitude there is 111,170 m (WGS 84, from memory).
    const north = Math.max(...ring.map(([, lat]) => lat));
    expect((north - 47) * 111_170).toBeCloseTo(1000, 0);
  });

  test('a line across the 180° meridian is cut there (3.1.9)', () => {
    const parts = lineParts([lonLat(179, 0), lonLat(-179, 2)]);
    expect(parts).toEqual([
      [
        [179, 0],
        [180, 1],
      ],
      [
        [-180, 1],
        [-179, 2],
      ],
    ]);
    expect(lineParts([lonLat(-179, 2), lonLat(179, 0)]).every(inRange)).toBe(true);
    expect(lineParts([lonLat(1, 0), lonLat(2, 0)])).toHaveLength(1);
  });

  test('a ring across the 180° meridian is cut there, with its hole, and loses no ground', () => {
    const parts = shapeParts({ kind: 'polygons', polygons: [[square(178, -178), square(179, -179)]] });
    expect(parts).toHaveLength(2);
    for (const [outer = [], hole = []] of parts) {
      expect(inRange([...outer, ...hole])).toBe(true);
      // Two degrees by two, and one by two for the hole; the sum is twice the area.
      expect(winding(outer)).toBeCloseTo(8, 6);
      expect(winding(hole)).toBeCloseTo(-4, 6);
    }
  });
});
