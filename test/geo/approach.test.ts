import { describe, expect, test } from 'vitest';
import { nearestApproach, type Strand } from '../../server/src/geo/approach.ts';
import { seeded } from '../support/random.ts';

const level = (height: number): Pick<Strand, 'lowest' | 'highest'> => ({
  lowest: [height, height],
  highest: [height, height],
});

describe('the nearest approach of two strands', () => {
  const east: Strand = { start: { x: 0, y: 0 }, end: { x: 100, y: 0 }, ...level(50) };

  test('that cross at one height is nought, where they cross', () => {
    const north: Strand = { start: { x: 30, y: -10 }, end: { x: 30, y: 30 }, ...level(50) };
    expect(nearestApproach(east, north)).toEqual({ distance: 0, share: 0.3, otherShare: 0.25 });
  });

  test('that cross one above the other does not exist', () => {
    const north: Strand = { start: { x: 30, y: -10 }, end: { x: 30, y: 30 }, ...level(50.1) };
    expect(nearestApproach(east, north)).toBeUndefined();
  });

  test('counts only where a climb has come into the other height', () => {
    // It passes 50 m half way, 20 m north of the crossing.
    const climb: Strand = { start: { x: 30, y: -20 }, end: { x: 30, y: 60 }, lowest: [0, 100], highest: [0, 100] };
    expect(nearestApproach(east, climb)?.distance).toBeCloseTo(20, 9);
  });

  test('of a strand without length is that of its place', () => {
    const column: Strand = { start: { x: 140, y: 30 }, end: { x: 140, y: 30 }, lowest: [0, 0], highest: [60, 60] };
    expect(nearestApproach(east, column)).toEqual({ distance: 50, share: 1, otherShare: 0 });
  });

  test('of parallel strands is their distance', () => {
    const beside: Strand = { start: { x: 150, y: 7 }, end: { x: 50, y: 7 }, ...level(50) };
    expect(nearestApproach(east, beside)?.distance).toBeCloseTo(7, 9);
  });

  test('is never more than what sampling finds, and never less than the sampling allows', () => {
    const random = seeded(20261125);
    const between = (low: number, high: number): number => low + (high - low) * random();
    const strand = (): Strand => {
      const [start, end] = [
        { x: between(-60, 60), y: between(-60, 60) },
        { x: between(-60, 60), y: between(-60, 60) },
      ];
      const lowest = [between(0, 60), between(0, 60)] as const;
      const thick = [between(0, 20), between(0, 20)] as const;
      return { start, end, lowest, highest: [lowest[0] + thick[0], lowest[1] + thick[1]] };
    };
    const STEPS = 80;
    const along = (from: number, to: number, share: number): number => from + (to - from) * share;
    let apart = 0;
    for (let run = 0; run < 200; run++) {
      const [one, other] = [strand(), strand()];
      let sampled = Number.POSITIVE_INFINITY;
      for (let i = 0; i <= STEPS; i++) {
        for (let j = 0; j <= STEPS; j++) {
          const [s, t] = [i / STEPS, j / STEPS];
          if (along(...one.lowest, s) > along(...other.highest, t)) continue;
          if (along(...other.lowest, t) > along(...one.highest, s)) continue;
          const x = along(one.start.x, one.end.x, s) - along(other.start.x, other.end.x, t);
          const y = along(one.start.y, one.end.y, s) - along(other.start.y, other.end.y, t);
          sampled = Math.min(sampled, Math.hypot(x, y));
        }
      }
      const found = nearestApproach(one, other);
      if (found === undefined) {
        apart++;
        expect(sampled).toBe(Number.POSITIVE_INFINITY);
        continue;
      }
      expect(found.distance).toBeLessThanOrEqual(sampled + 1e-9);
      // A sampled pair lies within one step of each of the two from the best one, and a corner of the overlap may be thin.
      if (Number.isFinite(sampled) && sampled - found.distance > 15) {
        throw new Error(`run ${run}: ${found.distance} m found, ${sampled} m sampled`);
      }
      const [s, t] = [found.share, found.otherShare];
      expect(along(...one.lowest, s)).toBeLessThanOrEqual(along(...other.highest, t) + 1e-6);
      expect(along(...other.lowest, t)).toBeLessThanOrEqual(along(...one.highest, s) + 1e-6);
    }
    expect(apart).toBeGreaterThan(5);
    expect(apart).toBeLessThan(150);
  });
});
