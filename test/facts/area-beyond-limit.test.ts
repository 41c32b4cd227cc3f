import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FactTools } from '../../server/src/facts/fact.ts';
import { destination, distance } from '../../server/src/geo/geodesy.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { nearestSurface } from '../../server/src/geo/nearest-surface.ts';
import { groundAt } from '../../server/src/geo/terrain-walk.ts';
import { memo } from '../../server/src/review/memo.ts';
import { type AreaBeyond, areaBeyondLimit } from '../../server/src/rulebook/area-limit.ts';
import type { RuleSetId } from '../../server/src/rulebook/rule-set.ts';
import { aboveSea, type LonLat, lonLat, metres } from '../../server/src/units/frames.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

const CENTRE = lonLat(-120.499, 47.501);
const RADIUS = 40;
/** One degree of latitude at 47.5 degrees north. */
const NORTH = 111_178;

const judged = (
  to: string,
  grids: readonly HeightGrid[],
  ruleSet: RuleSetId,
  obstacles = '',
): { readonly beyond: AreaBeyond; readonly steps: number } => {
  const world = worldWith(grids, { obstacles: [] });
  const { plan, item } = madePlan(
    `${SITE}${obstacles}route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - area: field\n    inside: { circle: ${RADIUS} m, around: { lat: ${CENTRE.lat}, lon: ${CENTRE.lon} } }\n    from: 20 m AGL\n    to: ${to}\n    for: 4 min\n  - land: home\n`,
    world,
  );
  const { settings, now } = madePlan(SITE, world).tools;
  const tools: FactTools = memo({ plan, world, settings, ruleSet, now });
  const work = tools.ask(areaBeyondLimit, item('field')).finish();
  let steps = 0;
  for (;;) {
    const step = work.next();
    if (step.done === true) return { beyond: step.value, steps };
    steps += 1;
  }
};

/** Places of the area every few metres, its rim among them. */
const places = (): readonly LonLat[] =>
  Array.from({ length: 11 }, (_, i) => (RADIUS * i) / 10).flatMap((away) =>
    Array.from({ length: 24 }, (_, i) => destination(CENTRE, 15 * i, away)),
  );

/** (EU) 2019/947 UAS.OPEN.010(2): 120 metres from the closest point of the surface of the earth. */
describe('an area in the EU', () => {
  test('is proven or found as dense sampling of the same ground finds, and doubtful only near the limit', () => {
    const kinds = new Map<string, number>();
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 9999 }),
        fc.double({ min: 0, max: 0.7, noNaN: true }),
        fc.integer({ min: 112, max: 150 }),
        fc.boolean(),
        (seed, slope, height, isAboveGround) => {
          const grid = surfaceGrid(
            LATTICE,
            (lon, lat) =>
              400 + slope * (lat - 47.501) * NORTH + 3 * Math.sin(seed + lon * 4000) + 2 * Math.cos(lat * 5000),
          );
          const to = isAboveGround ? `${height} m AGL` : `${400 + height} m AMSL`;
          const { beyond } = judged(to, [grid], 'eu-open');
          kinds.set(beyond.kind, (kinds.get(beyond.kind) ?? 0) + 1);
          let greatest = 0;
          for (const at of places()) {
            const craft = isAboveGround ? (groundAt(grid, at) ?? Number.NaN) + height : 400 + height;
            greatest = Math.max(
              greatest,
              nearestSurface([grid], at, aboveSea(craft), metres(400)).nearest?.distance ?? 400,
            );
          }
          if (beyond.kind === 'within') expect(greatest).toBeLessThan(120.01);
          if (beyond.kind === 'undecided') expect(greatest).toBeGreaterThan(117.5);
          if (beyond.kind === 'over') {
            expect(beyond.distance).toBeGreaterThan(120);
            expect(beyond.distance).toBeLessThan(greatest + 3);
            expect(distance(CENTRE, beyond.at)).toBeLessThan(RADIUS + 0.01);
          }
        },
      ),
      { seed: 41, numRuns: 60 },
    );
    expect(kinds.get('within')).toBeGreaterThan(5);
    expect(kinds.get('over')).toBeGreaterThan(5);
    expect(kinds.get('undecided') ?? 0).toBeLessThan(10);
  });

  test('is done in steps, and in none where the height above the ground below is low enough', () => {
    const slope = surfaceGrid(LATTICE, (_, lat) => 400 + 0.5 * (lat - 47.501) * NORTH);
    expect(judged('133 m AGL', [slope], 'eu-open').steps).toBeGreaterThan(10);
    expect(judged('120 m AGL', [slope], 'eu-open')).toEqual({ beyond: { kind: 'within' }, steps: 0 });
  });

  test('without terrain is taken for as far from the ground as it is above it', () => {
    expect(judged('121 m AGL', [], 'eu-open').beyond.kind).toBe('undecided');
  });
});

describe('an area near structures under part 107', () => {
  const tower = (away: number, top = 40): string => {
    const at = destination(CENTRE, 90, away);
    return `obstacles: { listed: [{ name: tower, at: { lat: ${at.lat}, lon: ${at.lon} }, top: ${top} m AGL, structure: yes }] }\n`;
  };

  test('is allowed 400 ft above its top where all of the area is within 400 ft of it', () => {
    expect(judged('150 m AGL', [LEVEL_GROUND], 'us-part-107', tower(0)).beyond.kind).toBe('within');
    expect(judged('150 m AGL', [LEVEL_GROUND], 'us-part-107', tower(121.92 - RADIUS - 0.5)).beyond.kind).toBe('within');
    expect(judged('161.9 m AGL', [LEVEL_GROUND], 'us-part-107', tower(0)).beyond.kind).toBe('within');
    expect(judged('162 m AGL', [LEVEL_GROUND], 'us-part-107', tower(0)).beyond.kind).not.toBe('within');
  });

  test('is told at a place beyond its reach where a part is', () => {
    const { beyond } = judged('150 m AGL', [LEVEL_GROUND], 'us-part-107', tower(121.92 - RADIUS + 2));
    if (beyond.kind !== 'over') throw new Error(beyond.kind);
    expect(beyond.height).toBe(150);
    expect(distance(CENTRE, beyond.at)).toBeLessThan(RADIUS + 0.01);
    expect(distance(destination(CENTRE, 90, 121.92 - RADIUS + 2), beyond.at)).toBeGreaterThan(121.92);
  });
});
