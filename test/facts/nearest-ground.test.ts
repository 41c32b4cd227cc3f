import { describe, expect, test } from 'vitest';
import { bandOf, roomBetween } from '../../server/src/facts/area-band.ts';
import { NotAssessed } from '../../server/src/facts/fact.ts';
import { itemFarFromGround, legFarFromGround } from '../../server/src/facts/far-from-ground.ts';
import { pathOfLeg } from '../../server/src/facts/leg-path.ts';
import { Steps } from '../../server/src/facts/steps.ts';
import { legPath } from '../../server/src/geo/geodesy.ts';
import { groundOf } from '../../server/src/geo/ground-profile.ts';
import { greatestGroundOn } from '../../server/src/geo/stretch-height.ts';
import { groundAlong } from '../../server/src/geo/terrain-walk.ts';
import { aboveSea, lonLat, metres } from '../../server/src/units/frames.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

const LIMIT = metres(120);
const level = worldWith([LEVEL_GROUND]);

const planAt = (altitude: string) =>
  madePlan(
    `${SITE}route:\n  - take-off: home\n    climb-to: 30 m AGL\n  - point: a\n    at: 47.501, -120.499\n    altitude: ${altitude}\n  - point: b\n    at: 47.502, -120.496\n    altitude: ${altitude}\n  - land: home\n`,
    level,
  );

const farAt = (altitude: string) => {
  const { item, tools } = planAt(altitude);
  const point = item('a');
  if (point.altitude === undefined) throw new Error('the test has no altitude');
  return itemFarFromGround(point, point.altitude, LIMIT, tools);
};

/** 120 m from the closest point of the surface: (EU) 2019/947 UAS.OPEN.010(2). */
describe('the distance from the nearest ground', () => {
  test('over level ground is the height above it', () => {
    expect(farAt('120 m AGL')).toBeUndefined();
    expect(farAt('120.02 m AGL')?.distance).toBeCloseTo(120.02, 3);
    expect(farAt('530 m AMSL')?.distance).toBeCloseTo(130, 3);
  });

  test('over a slope of 45 degrees is the height times the root of a half', () => {
    // One degree of latitude is 111.178 km at 47.5 degrees north: the ground rises a metre for each metre north.
    const slope = surfaceGrid(LATTICE, (_, lat) => 400 + (lat - 47.5) * 111_178);
    const made = (altitude: string) =>
      madePlan(
        `${SITE}route:\n  - take-off: home\n  - point: a\n    at: 47.5, -120.499\n    altitude: ${altitude}\n  - land: home\n`,
        worldWith([slope]),
      );
    const distanceAt = (altitude: string) => {
      const { item, tools } = made(altitude);
      const point = item('a');
      if (point.altitude === undefined) throw new Error('the test has no altitude');
      return itemFarFromGround(point, point.altitude, LIMIT, tools)?.distance;
    };
    // 169 m above the ground below are 119.5 m from the slope, 172 m are 121.6 m.
    expect(distanceAt('569 m AMSL')).toBeUndefined();
    expect(distanceAt('572 m AMSL')).toBeCloseTo(172 * Math.SQRT1_2, 1);
  });

  test('along a leg is told at a place that proves it, and only on the stretches that are asked for', () => {
    const { legTo, tools } = planAt('125 m AGL');
    const leg = legTo('b');
    const { length } = tools.ask(pathOfLeg, leg);
    const far = new Steps(legFarFromGround(leg, [{ from: 0, to: length }], LIMIT, tools)).now();
    expect(far?.distance).toBeCloseTo(125, 3);
    expect(new Steps(legFarFromGround(leg, [], LIMIT, tools)).now()).toBeUndefined();
  });

  test('is not guessed without terrain', () => {
    const { item, tools } = madePlan(
      `${SITE}route:\n  - take-off: home\n  - point: a\n    at: 47.501, -120.499\n    altitude: 530 m AMSL\n  - land: home\n`,
      worldWith([]),
    );
    const point = item('a');
    expect(() => point.altitude && itemFarFromGround(point, point.altitude, LIMIT, tools)).toThrow(NotAssessed);
  });
});

describe('the band of an area', () => {
  const areaOf = (from: string, to: string) =>
    madePlan(
      `${SITE}route:\n  - take-off: home\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.501, lon: -120.499 } }\n    from: ${from}\n    to: ${to}\n    for: 4 min\n  - land: home\n`,
      level,
    ).item('roof');

  test('is taken the right way round, whichever way it was written', () => {
    for (const item of [areaOf('20 m AGL', '150 ft AGL'), areaOf('150 ft AGL', '20 m AGL')]) {
      const band = bandOf(item);
      expect([band.lower.number, band.upper.number]).toEqual([20, 150]);
      expect(roomBetween(band)).toBeCloseTo(150 * 0.3048 - 20, 9);
    }
  });

  test('stays as written where its ends count from different things', () => {
    const band = bandOf(areaOf('430 m AMSL', '20 m AGL'));
    expect(band.lower.number).toBe(430);
    expect(roomBetween(band)).toBeUndefined();
  });
});

test('the greatest ground on stretches of a path is never below a sample, and above it by no more than a step can hide', () => {
  const grid = surfaceGrid(LATTICE, (lon, lat) => 400 + 60 * Math.sin(lon * 2500) * Math.cos(lat * 3000));
  const path = legPath(lonLat(-120.51, 47.491), lonLat(-120.493, 47.507));
  const profile = groundAlong(grid, path);
  for (const [from, to] of [
    [0, path.length],
    [210, 640],
    [333, 333],
    [900.5, 1234.25],
  ] as const) {
    const greatest = greatestGroundOn(profile, [{ from, to }]) ?? aboveSea(Number.NaN);
    let sampled = Number.NEGATIVE_INFINITY;
    const steps = 20_000;
    for (let i = 0; i <= steps; i++) sampled = Math.max(sampled, groundOf(profile, from + ((to - from) * i) / steps));
    expect(greatest).toBeGreaterThanOrEqual(sampled);
    // The surface is nowhere steeper than 60 * 3000 m a degree, 1.7: between two samples it rises less than a step's length.
    expect(greatest - sampled).toBeLessThanOrEqual((to - from) / steps);
  }
  expect(greatestGroundOn(profile, [])).toBeUndefined();
});
