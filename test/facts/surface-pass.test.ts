import { describe, expect, test } from 'vitest';
import { legAltitudes } from '../../server/src/facts/leg-altitudes.ts';
import { pathOfLeg } from '../../server/src/facts/leg-path.ts';
import { surfacePass } from '../../server/src/facts/surface-pass.ts';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { groundOf } from '../../server/src/geo/ground-profile.ts';
import { differenceOf } from '../../server/src/geo/profile-difference.ts';
import { groundAlong } from '../../server/src/geo/terrain-walk.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { flatGrid, gridFromRows, surfaceGrid } from '../../server/src/world/small-grid.ts';
import { terrainOf } from '../../server/src/world/terrain-of-grids.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

const bumpy = surfaceGrid(LATTICE, (lon, lat) => 430 + 15 * Math.sin(lon * 9000) + 12 * Math.cos(lat * 7000));

describe('how much higher one ground is than another', () => {
  test('is so at every place of the path, also where their cells do not agree', () => {
    const { west, north, step, columns, rows } = LATTICE;
    const other = surfaceGrid(
      { west: west + step / 3, north: north - step / 5, step: step * 1.4, columns: columns - 20, rows: rows - 20 },
      (lon) => 400 + 10 * Math.cos(lon * 4000),
    );
    const path = legPath(lonLat(-120.5, 47.5), lonLat(-120.494, 47.5031));
    const [upper, lower] = [groundAlong(bumpy, path), groundAlong(other, path)];
    const difference = differenceOf(upper, lower);
    let known = 0;
    for (let i = 0; i <= 1000; i++) {
      const along = (path.length * i) / 1000;
      const expected = groundOf(upper, along) - groundOf(lower, along);
      if (Number.isNaN(expected)) continue;
      known += 1;
      expect(Math.abs(groundOf(difference, along) - expected)).toBeLessThan(1e-6);
    }
    expect(known).toBeGreaterThan(500);
  });

  test('is not known where either of them is not', () => {
    const holed = gridFromRows(0, 0, 0.01, [
      [1, 1, Number.NaN, 1],
      [1, 1, Number.NaN, 1],
    ]);
    const whole = flatGrid({ west: 0, north: 0.01, step: 0.01, columns: 4, rows: 2 }, 3);
    const path = legPath(lonLat(0.001, 0.005), lonLat(0.025, 0.005));
    for (const pair of [
      [holed, whole],
      [whole, holed],
    ] as const) {
      const [one, other] = pair.map((grid) => groundAlong(grid, path));
      if (one === undefined || other === undefined) throw new Error('two profiles');
      const difference = differenceOf(one, other);
      expect(groundOf(difference, 500)).toBe(pair[0] === holed ? -2 : 2);
      expect(groundOf(difference, 2000)).toBeNaN();
    }
  });
});

describe('a leg and a surface model', () => {
  const plan = (end: string) =>
    madePlan(
      `${SITE}route:\n  - take-off: home\n    climb-to: 25 m AGL\n  - point: a\n    at: 47.5031, -120.494\n${end}  - land: home\n`,
      { ...worldWith([LEVEL_GROUND]), surface: terrainOf([{ grid: bumpy }]) },
    );

  test.each([
    ['in a straight line', '    altitude: 40 m AGL\n'],
    ['that follows the ground', '    altitude: 40 m AGL\n    leg: { follows: 40 m AGL within 2 m }\n'],
  ])('%s: the deepest place is where dense sampling has it', (_, end) => {
    const { legTo, tools } = plan(end);
    const leg = legTo('a');
    const path = tools.ask(pathOfLeg, leg);
    const craft = tools.ask(legAltitudes, leg);
    const ground = groundAlong(LEVEL_GROUND, path);
    const surface = groundAlong(bumpy, path);
    let deepest = Number.POSITIVE_INFINITY;
    for (let i = 0; i <= 20_000; i++) {
      const along = (path.length * i) / 20_000;
      const altitude =
        craft.kind === 'straight'
          ? craft.start.aboveSea + ((craft.end.aboveSea - craft.start.aboveSea) * along) / path.length
          : groundOf(ground, along) + 38;
      deepest = Math.min(deepest, altitude - groundOf(surface, along));
    }
    const below = tools.ask(surfacePass, leg)?.below;
    expect(deepest).toBeLessThan(-1);
    expect(below?.height).toBeLessThan(deepest + 1e-6);
    // Samples 3 cm apart on slopes below two in one miss at most this.
    expect(below?.height).toBeGreaterThan(deepest - 0.03);
    expect((below?.craft ?? 0) - (below?.surface ?? 0)).toBeCloseTo(below?.height ?? 0, 9);
  });

  test('is not asked where the plan names none', () => {
    const { legTo, tools } = madePlan(
      `${SITE}route:\n  - take-off: home\n  - point: a\n    at: 47.5031, -120.494\n    altitude: 40 m AGL\n  - land: home\n`,
      worldWith([LEVEL_GROUND]),
    );
    expect(tools.ask(surfacePass, legTo('a'))).toBeUndefined();
  });
});
