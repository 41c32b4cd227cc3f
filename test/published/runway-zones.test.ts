import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BESIDE_CENTRELINE, BEYOND_END, exclusionZone } from '../../server/src/facts/runway-zones.ts';
import { destination, distance, inverse, legPath } from '../../server/src/geo/geodesy.ts';
import { insideShape, type Shape } from '../../server/src/geo/shape.ts';
import { type LonLat, lonLat } from '../../server/src/units/frames.ts';
import type { Runway } from '../../server/src/world/runway.ts';
import { readRunways } from '../../server/src/world/runways-geojson.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const RUNWAYS = 'airspace/ourairports_runways_subset.csv';
const FOOT = 0.3048;

const zoneOf = (runway: Runway): Shape => {
  const ring = exclusionZone(runway);
  if (ring === undefined) throw new Error(`${runway.name} has no length`);
  return { kind: 'polygons', polygons: [[ring]] };
};

const runwayOf = (one: LonLat, other: LonLat): Runway => ({
  name: 'of the test',
  airport: 'of the test',
  surfaceClass: 'D',
  ends: [one, other],
});

describe('the exclusion zone of a runway (18 U.S.C. 39B(b))', () => {
  test('reaches one statute mile beyond each end and is half a statute mile wide; a statute mile is 5,280 ft', () => {
    expect(BEYOND_END).toBeCloseTo(5280 * FOOT, 9);
    expect(2 * BESIDE_CENTRELINE).toBeCloseTo((5280 / 2) * FOOT, 9);
  });

  // Along a meridian, along a parallel, slanted, at the 180° meridian and far north.
  test.each([
    ['north', 47, 10, 0],
    ['east', 47, 10, 90],
    ['south-west', -33, 151, 225],
    ['across the 180° meridian', 52, 179.999, 80],
    ['far north', 70, 25, 130],
  ])('ends there to a metre on all four sides: %s', (_, lat, lon, course) => {
    const one = lonLat(lon, lat);
    const other = destination(one, course, 2500);
    const zone = zoneOf(runwayOf(one, other));
    const back = inverse(other, one).course;
    const middle = legPath(one, other).at(1250);
    const across = inverse(middle, other).course + 90;
    for (const beyond of [-1, 1]) {
      const isInside = beyond < 0;
      expect(insideShape(zone, destination(other, back + 180, BEYOND_END + beyond))).toBe(isInside);
      expect(insideShape(zone, destination(one, course + 180, BEYOND_END + beyond))).toBe(isInside);
      expect(insideShape(zone, destination(middle, across, BESIDE_CENTRELINE + beyond))).toBe(isInside);
      expect(insideShape(zone, destination(middle, across + 180, BESIDE_CENTRELINE + beyond))).toBe(isInside);
    }
  });
});

interface Row {
  readonly name: string;
  readonly length: number;
  readonly heading: number | undefined;
  readonly ends: readonly [readonly [number, number], readonly [number, number]];
}

/** Rows that give both ends and a length. None of the columns used holds a comma. */
const rowsOf = (text: string): readonly Row[] =>
  text
    .trim()
    .split('\n')
    .slice(1)
    .flatMap((line) => {
      const cells = line.split(',');
      const [lat0, lon0, lat1, lon1, feet] = [9, 10, 15, 16, 3].map((column) => cells[column] ?? '');
      if ([lat0, lon0, lat1, lon1, feet].includes('')) return [];
      const heading = cells[12] ?? '';
      return [
        {
          name: `${cells[2]} ${cells[8]}`,
          length: Number(feet) * FOOT,
          heading: heading === '' ? undefined : Number(heading),
          ends: [
            [Number(lon0), Number(lat0)],
            [Number(lon1), Number(lat1)],
          ] as const,
        },
      ];
    });

describe.skipIf(!hasReferenceData(RUNWAYS))(
  `real runways (OurAirports, public domain), ${NEEDS_REFERENCE_DATA}`,
  () => {
    const rows = hasReferenceData(RUNWAYS) ? rowsOf(readFileSync(inReferenceData(RUNWAYS), 'utf8')) : [];

    const read = ({ name, ends }: Row): Runway | undefined =>
      readRunways(
        JSON.stringify({
          type: 'FeatureCollection',
          features: [
            {
              type: 'Feature',
              properties: { airport: name, 'surface-class': 'D' },
              geometry: { type: 'LineString', coordinates: ends },
            },
          ],
        }),
      ).runways[0];

    /** Zone along the axis and across it, and the direction of the axis, from the corners of its ring. */
    const measured = (runway: Runway) => {
      const ring = exclusionZone(runway) ?? [];
      const half = ring.length / 2;
      const [startRight, endRight, endLeft, startLeft] = [ring[0], ring[half - 1], ring[half], ring[ring.length - 1]];
      if (startRight === undefined || endRight === undefined || endLeft === undefined || startLeft === undefined) {
        throw new Error('the zone has no four corners');
      }
      const middle = (a: LonLat, b: LonLat): LonLat => legPath(a, b).at(distance(a, b) / 2);
      const axis = inverse(middle(startRight, startLeft), middle(endRight, endLeft));
      return { axis, width: distance(startRight, startLeft), otherWidth: distance(endRight, endLeft) };
    };

    // Surveyed by hand: of 264 rows with both ends 197 agree with their own printed length within 1 %.
    const sound = rows.filter((row) => {
      const runway = read(row);
      return runway !== undefined && Math.abs(distance(...runway.ends) - row.length) < 0.01 * row.length;
    });

    test('most rows agree with their own printed length', () => {
      expect(rows.length).toBeGreaterThan(250);
      expect(sound.length).toBeGreaterThan(190);
    });

    test('the zone is as long as the printed length and two miles, and half a mile wide', () => {
      for (const row of sound) {
        const runway = read(row);
        if (runway === undefined) throw new Error(`${row.name} is not read`);
        const { axis, width, otherWidth } = measured(runway);
        expect(Math.abs(axis.length - row.length - 2 * 5280 * FOOT), row.name).toBeLessThan(0.01 * row.length + 0.05);
        expect(width, row.name).toBeCloseTo(2640 * FOOT, 2);
        expect(otherWidth, row.name).toBeCloseTo(2640 * FOOT, 2);
      }
    });

    test('the zone lies in the printed true heading, which is mostly rounded to a degree', () => {
      const off = sound.flatMap((row) => {
        const runway = read(row);
        if (runway === undefined || row.heading === undefined) return [];
        const turn = measured(runway).axis.course - row.heading;
        return [Math.abs(((turn + 540) % 360) - 180)];
      });
      expect(off.length).toBeGreaterThan(120);
      expect(off.filter((degrees) => degrees <= 1).length / off.length).toBeGreaterThan(0.85);
      expect(off.filter((degrees) => degrees <= 3).length / off.length).toBeGreaterThan(0.95);
    });
  },
);
