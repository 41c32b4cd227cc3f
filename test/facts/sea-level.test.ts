import { describe, expect, test } from 'vitest';
import { cloudByHand } from '../../server/src/facts/cloud-bases.ts';
import { heightAtItem } from '../../server/src/facts/item-height.ts';
import { legObstacles, topOf } from '../../server/src/facts/obstacle-passes.ts';
import { geoidOverPlan } from '../../server/src/facts/sea-level.ts';
import { betweenEdges, type VerticalEdges } from '../../server/src/facts/zone-vertical.ts';
import { boxAround } from '../../server/src/geo/box.ts';
import { aboveEllipsoid, lonLat } from '../../server/src/units/frames.ts';
import { geoidOf } from '../../server/src/world/geoid.ts';
import type { World } from '../../server/src/world/world.ts';
import type { Zone } from '../../server/src/world/zone.ts';
import { LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

/** Mean sea level lies 20 m above the ellipsoid at 120.5 W and rises by a metre for each hundredth of a degree east. */
const tilted = geoidOf({
  west: -121,
  south: 47,
  stepEast: 1,
  stepNorth: 1,
  columns: 2,
  rows: 2,
  undulations: Float32Array.from([-30, 70, -30, 70]),
});

const PLAN = `${SITE}weather: { cloud-base: 920 m above ellipsoid }
obstacles: { listed: [{ name: mast, at: { lat: 47.5, lon: -120.49 }, top: 481 m above ellipsoid }] }
route:
  - take-off: home
  - point: east
    at: 47.5, -120.48
    altitude: 482 m above ellipsoid
  - land: home
`;

const made = (geoid: World['geoid']) =>
  madePlan(PLAN, worldWith([LEVEL_GROUND], { obstacles: [], ...(geoid === undefined ? {} : { geoid }) }));

const zone = (ceiling: number): Zone => {
  const ring = [lonLat(-120.51, 47.49), lonLat(-120.47, 47.49), lonLat(-120.47, 47.51), lonLat(-120.51, 47.51)];
  const box = boxAround(ring);
  if (box === undefined) throw new Error('no box');
  const shape = { kind: 'polygons', polygons: [[ring]] } as const;
  const edge = { aboveEllipsoid: aboveEllipsoid(ceiling) };
  return { id: 'z', name: 'Reed Bay', kind: 'restricted', shape, box, floor: 'surface', ceiling: edge };
};

describe('a height above the ellipsoid', () => {
  const { tools, item, legTo, plan } = made(tilted);

  test('of a point is brought to mean sea level at its own place', () => {
    const east = item('east');
    if (east.altitude === undefined) throw new Error('no altitude');
    // 22 m at 120.48 W.
    expect(heightAtItem(east.altitude, east, tools).aboveSea).toBeCloseTo(460, 4);
  });

  test('of the top of an obstacle at the obstacle', () => {
    const [pass] = tools.ask(legObstacles, legTo('east')).passes;
    if (pass === undefined) throw new Error('the mast is passed');
    // 21 m at 120.49 W.
    expect(topOf(pass.obstacle, item('home'), tools)).toBeCloseTo(460, 4);
  });

  test('of a cloud at the take-off place', () => {
    const [flight] = plan.flights;
    const base = plan.weather.cloudBase;
    if (flight === undefined || base === undefined || !('number' in base)) {
      throw new Error('no cloud base');
    }
    expect(cloudByHand(base, flight, tools)).toBeCloseTo(900, 4);
  });

  test('of a zone lies in a band over the places of the plan, and what only the wider zone has is not assessed', () => {
    const range = tools.ask(geoidOverPlan, plan);
    expect(range.least).toBeCloseTo(20, 4);
    expect(range.greatest).toBeCloseTo(22, 4);
    // 482 m above the ellipsoid are 460 m to 462 m above mean sea level, over this plan.
    const isBelow = (altitude: number) => {
      const judge = ({ ceiling }: VerticalEdges): boolean =>
        ceiling.kind === 'above-sea' && altitude < ceiling.altitude;
      return betweenEdges(zone(482), item('home'), tools, judge, (found) => found);
    };
    expect(isBelow(459)).toBe(true);
    expect(isBelow(463)).toBe(false);
    expect(() => isBelow(461)).toThrow(/mean sea level is not at one height above that/);
  });

  test.each<[string, World['geoid'], RegExp]>([
    ['without a geoid', undefined, /height of east is above the ellipsoid, and bringing it .* needs a geoid grid/],
    ['with one that could not be read', { missing: 'geoid "g.gtx" is empty' }, /geoid "g.gtx" is empty/],
    [
      'where the grid has no value',
      geoidOf({
        west: 0,
        south: 0,
        stepEast: 1,
        stepNorth: 1,
        columns: 2,
        rows: 2,
        undulations: new Float32Array(4),
      }),
      /the geoid grid has no value at 47.5, -120.48/,
    ],
  ])('is not assessed %s', (_, geoid, reason) => {
    const other = made(geoid);
    const east = other.item('east');
    const { altitude } = east;
    if (altitude === undefined) throw new Error('no altitude');
    expect(() => heightAtItem(altitude, east, other.tools)).toThrow(reason);
  });
});
