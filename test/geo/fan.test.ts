import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { blockedLines, highestLine } from '../../server/src/geo/fan.ts';
import { destination, legPath } from '../../server/src/geo/geodesy.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import { altitudeOnLine, linesOfSight, RADIUS_FOR_SIGHT } from '../../server/src/geo/lines-of-sight.ts';
import { groundUnderSheet, type SheetCorner } from '../../server/src/geo/sheet-over-terrain.ts';
import { groundAt } from '../../server/src/geo/terrain-walk.ts';
import { waysHome } from '../../server/src/geo/ways-home.ts';
import { aboveSea, type LonLat, lonLat } from '../../server/src/units/frames.ts';
import { flatGrid, surfaceGrid } from '../../server/src/world/small-grid.ts';

const STEP = 1 / 3600;
const LATTICE = { west: 10, north: 50.03, step: STEP, columns: 145, rows: 109 };
const MIDDLE = lonLat(10.02, 50.015);

/** Waves on waves, 46 m from the lowest trough to the highest crest, nowhere steeper than 1.6 metres a metre. */
const rough = (seed: number): HeightGrid =>
  surfaceGrid(
    LATTICE,
    (lon, lat) =>
      300 + 20 * Math.sin(seed + lon * 4000) * Math.cos(lat * 3000 + seed) + 3 * Math.sin(lon * 9000 - seed),
  );

const under =
  (...grids: readonly HeightGrid[]) =>
  (corners: readonly SheetCorner[]) =>
    groundUnderSheet(grids, corners);

const at = (course: number, away: number): LonLat => destination(MIDDLE, course, away);

/**
 * Metres between samples along the path and along the lines, and how much the ground can differ between a place and the
 * nearest sample: half of the one and half of the other away, in directions that may be nearly the same.
 */
const ACROSS = 2.5;
const BETWEEN = 1.6 * ACROSS;

interface Sample {
  readonly along: number;
  readonly over: number;
}

/** The slow way: the highest ground over each of many lines, looked up place by place. */
const sampled = (
  grid: HeightGrid,
  apex: LonLat,
  path: ReturnType<typeof legPath>,
  altitude: (along: number, share: number, length: number) => number,
): readonly Sample[] => {
  const lines = Math.ceil(path.length / ACROSS);
  return Array.from({ length: lines + 1 }, (_, i) => {
    const along = Math.min(path.length, (path.length * i) / lines);
    const line = legPath(apex, path.at(along));
    const steps = Math.max(1, Math.ceil(line.length / ACROSS));
    let over = Number.NEGATIVE_INFINITY;
    for (let j = 0; j <= steps; j++) {
      const share = j / steps;
      const ground = groundAt(grid, line.at(share * line.length)) ?? Number.NaN;
      over = Math.max(over, ground - altitude(along, share, line.length));
    }
    return { along, over };
  });
};

const flights = fc.record({
  seed: fc.integer({ min: 0, max: 1000 }),
  eye: fc.record({ course: fc.integer({ min: 0, max: 359 }), away: fc.integer({ min: 0, max: 250 }) }),
  from: fc.record({ course: fc.integer({ min: 0, max: 359 }), away: fc.integer({ min: 20, max: 300 }) }),
  to: fc.record({ course: fc.integer({ min: 0, max: 359 }), away: fc.integer({ min: 20, max: 300 }) }),
  start: fc.integer({ min: 285, max: 360 }),
  end: fc.integer({ min: 285, max: 360 }),
  level: fc.integer({ min: 290, max: 340 }),
});

const expectSame = (samples: readonly Sample[], blocked: ReturnType<typeof blockedLines>, steep: number): void => {
  const apart = (along: number): boolean =>
    blocked.stretches.every((stretch) => along < stretch.from || along > stretch.to);
  // Never misses: every sampled line that the ground stands in lies in a stretch.
  for (const { along, over } of samples) {
    if (over > 0.02) expect({ along, over, apart: apart(along) }).toEqual({ along, over, apart: false });
  }
  const deepest = samples.reduce((one, other) => (other.over > one.over ? other : one));
  if (deepest.over > 0) expect(blocked.worst?.over ?? Number.NaN).toBeGreaterThan(deepest.over - 0.02);
  // Nor cries wolf: what it says to be deepest is no deeper than ground and craft can be between two samples. A metre
  // of a climbing path may count as low as its lower end.
  const between = BETWEEN + (ACROSS / 2 + 1) * steep + 0.02;
  if (blocked.worst !== undefined) expect(blocked.worst.over).toBeLessThan(deepest.over + between);
  for (const { from, to } of blocked.stretches) {
    const near = samples.filter(({ along }) => along >= from - ACROSS - 1 && along <= to + ACROSS + 1);
    expect(Math.max(...near.map(({ over }) => over))).toBeGreaterThan(-between);
  }
};

describe('the lines from one place to a path', () => {
  test('of sight meet the ground where dense sampling says', () => {
    fc.assert(
      fc.property(flights, ({ seed, eye, from, to, start, end }) => {
        const grid = rough(seed);
        const watcher = at(eye.course, eye.away);
        const altitude = aboveSea((groundAt(grid, watcher) ?? 0) + 1.6);
        const path = legPath(at(from.course, from.away), at(to.course, to.away));
        if (!(path.length > 5)) return;
        const heightAt = (along: number): number => start + ((end - start) * along) / path.length;
        const fan = linesOfSight({ at: watcher, altitude }, path, (part) => [heightAt(part.from), heightAt(part.to)]);
        const blocked = blockedLines(fan, under(grid));
        expect(blocked.unknown).toBe(false);
        const samples = sampled(grid, watcher, path, (along, share, length) =>
          altitudeOnLine(altitude, heightAt(along), share, length, RADIUS_FOR_SIGHT),
        );
        expectSame(samples, blocked, Math.abs(end - start) / path.length);
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  test('home meet the ground, and rise above it, as dense sampling says', () => {
    fc.assert(
      fc.property(flights, ({ seed, eye, from, to, start, end, level }) => {
        const grid = rough(seed);
        const home = at(eye.course, eye.away);
        const path = legPath(at(from.course, from.away), at(to.course, to.away));
        if (!(path.length > 5)) return;
        const heightAt = (along: number): number => Math.max(level, start + ((end - start) * along) / path.length);
        const fan = waysHome(home, path, (part) => {
          const ends = [heightAt(part.from), heightAt(part.to)];
          return { least: Math.min(...ends), greatest: Math.max(...ends) };
        });
        const blocked = blockedLines(fan, under(grid));
        const samples = sampled(grid, home, path, heightAt);
        const steep = Math.abs(end - start) / path.length;
        expectSame(samples, blocked, steep);
        const low = sampled(grid, home, path, (along, share, length) => {
          const ground = groundAt(grid, legPath(home, path.at(along)).at(share * length)) ?? Number.NaN;
          return 2 * ground - heightAt(along);
        });
        const highest = Math.max(...low.map(({ over }) => over));
        const { greatest } = highestLine(fan, under(grid));
        expect(-(greatest?.over ?? Number.NaN)).toBeGreaterThan(highest - 0.02);
        // A metre of a climbing path counts as a whole: as much again as the path is steep.
        expect(-(greatest?.over ?? Number.NaN)).toBeLessThan(highest + 2 * BETWEEN + steep + 0.02);
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  test('from a knoll between them: free at both ends of a leg and blocked from its middle', () => {
    // By pen and paper: a cone 30 m high and 60 m wide stands 200 m north of home on level ground at 100 m. The leg runs
    // from 300 m west to 300 m east of a place 400 m north. The ways home from its ends pass the cone's middle at
    // 200 m / 400 m of the leg's half, 120 m beside it: over level ground. The way from its middle goes over the top.
    const top = at(0, 200);
    const grid = surfaceGrid({ west: 10.014, north: 50.0195, step: STEP / 10, columns: 432, rows: 170 }, (lon, lat) => {
      const away = legPath(top, lonLat(lon, lat)).length;
      return 100 + 30 * Math.max(0, 1 - away / 60);
    });
    const path = legPath(destination(at(0, 400), 270, 300), destination(at(0, 400), 90, 300));
    const atLevel = (altitude: number) =>
      blockedLines(
        waysHome(MIDDLE, path, () => ({ least: altitude, greatest: altitude })),
        under(grid),
      );
    expect(atLevel(131).stretches).toEqual([]);
    const blocked = atLevel(115);
    // At 15 m up the cone is 30 m in radius; lines to it leave home up to asin(30 / 200) = 8.627° off north and meet the
    // leg up to 400 m x tan 8.627° = 60.7 m beside its middle.
    expect(blocked.stretches).toHaveLength(1);
    const [{ from, to } = { from: 0, to: 0 }] = blocked.stretches;
    expect(from).toBeGreaterThan(300 - 60.7 - 2);
    expect(from).toBeLessThan(300 - 60.7 + 2);
    expect(to).toBeGreaterThan(300 + 60.7 - 2);
    expect(to).toBeLessThan(300 + 60.7 + 2);
    expect(blocked.highest?.ground).toBeCloseTo(130, 0);
    expect(blocked.worst?.along).toBeGreaterThan(280);
    expect(blocked.worst?.along).toBeLessThan(320);
  });

  test('sink by the curve of the Earth: two eyes at 1 m over a sea see each other up to 7.6 km apart', () => {
    // Each sees the horizon at sqrt(2 x 1 m x 7,322,998 m) = 3,827 m; the sea is level to both.
    const sea = flatGrid({ west: 9, north: 51, step: 0.01, columns: 201, rows: 201 }, 0);
    const isHidden = (away: number): boolean => {
      const path = legPath(destination(MIDDLE, 90, away), destination(MIDDLE, 90, away));
      const fan = linesOfSight({ at: MIDDLE, altitude: aboveSea(1) }, path, () => [1, 1]);
      return blockedLines(fan, under(sea)).stretches.length > 0;
    };
    expect(isHidden(7500)).toBe(false);
    expect(isHidden(7750)).toBe(true);
  });

  test('over ground without data say so, and another raster fills in', () => {
    const holed = flatGrid({ ...LATTICE, columns: 60 }, 300);
    const path = legPath(at(90, 100), at(90, 400));
    const fan = linesOfSight({ at: at(270, 300), altitude: aboveSea(302) }, path, () => [350, 350]);
    expect(blockedLines(fan, under(holed)).unknown).toBe(true);
    expect(blockedLines(fan, under(holed, flatGrid(LATTICE, 300))).unknown).toBe(false);
    expect(blockedLines(fan, under(holed, flatGrid(LATTICE, 400))).stretches).not.toEqual([]);
  });

  test('straight up from the apex, and to a path without length, are lines like any other', () => {
    const grid = rough(3);
    const ground = groundAt(grid, MIDDLE) ?? 0;
    const over = legPath(MIDDLE, MIDDLE);
    const eye = { at: MIDDLE, altitude: aboveSea(ground + 1.6) };
    expect(
      blockedLines(
        linesOfSight(eye, over, () => [ground + 50, ground + 50]),
        under(grid),
      ).stretches,
    ).toEqual([]);
    const away = legPath(at(90, 200), at(90, 200));
    const deep = blockedLines(
      linesOfSight(eye, away, () => [200, 200]),
      under(grid),
    );
    expect(deep.stretches).toEqual([{ from: 0, to: 0 }]);
  });
});
