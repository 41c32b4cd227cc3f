import { describe, expect, test } from 'vitest';
import { Steps } from '../../server/src/facts/steps.ts';
import { type AreaPart, judgeParts, type PartVerdict } from '../../server/src/geo/area-parts.ts';
import { destination, distance } from '../../server/src/geo/geodesy.ts';
import type { Shape } from '../../server/src/geo/shape.ts';
import { type LonLat, lonLat, metres } from '../../server/src/units/frames.ts';

const ringAround = (centre: LonLat, radius: number): readonly LonLat[] =>
  Array.from({ length: 64 }, (_, i) => destination(centre, (360 * i) / 64, radius));

/** Proven within so many metres of a place, beyond where a centre is farther: what a structure's reach is like. */
const within =
  (place: LonLat, reach: number) =>
  (part: AreaPart): PartVerdict => {
    const away = distance(place, part.centre);
    if (away + part.reach <= reach) return 'proven';
    return part.centred && away > reach ? { beyond: part.centre } : 'open';
  };

describe('an area judged part by part', () => {
  for (const centre of [lonLat(8, 46), lonLat(180, -17), lonLat(-120.5, 69)]) {
    const circle: Shape = { kind: 'circle', centre, radius: metres(100) };
    const judged = (judge: (part: AreaPart) => PartVerdict, shape: Shape = circle) =>
      new Steps(judgeParts(shape, ringAround(centre, 100.2), judge)).now();

    test(`is proven where all of it is, at ${centre.lon}`, () => {
      expect(judged(within(centre, 101)).kind).toBe('within');
      expect(judged(within(destination(centre, 60, 30), 131)).kind).toBe('within');
    });

    test(`is beyond where any place is, which then is a place of it, at ${centre.lon}`, () => {
      const place = destination(centre, 60, 30);
      const verdict = judged(within(place, 125));
      if (verdict.kind !== 'over') throw new Error(verdict.kind);
      expect(distance(centre, verdict.at)).toBeLessThan(100.001);
      expect(distance(place, verdict.at)).toBeGreaterThan(125);
    });

    test(`is undecided where nothing is proven, at ${centre.lon}`, () => {
      expect(judged(() => 'open').kind).toBe('undecided');
    });

    test(`parts that only touch the box of it do not count, at ${centre.lon}`, () => {
      // Everything in the corners of the box, 130 m from the middle, would be beyond.
      const judge = (part: AreaPart): PartVerdict => {
        const away = distance(centre, part.centre);
        if (away > 112) return { beyond: part.centre };
        return away + part.reach <= 112 ? 'proven' : 'open';
      };
      expect(judged(judge).kind).toBe('within');
    });
  }

  test('comes in steps of two parts', () => {
    const centre = lonLat(8, 46);
    const circle: Shape = { kind: 'circle', centre, radius: metres(100) };
    let parts = 0;
    let most = 0;
    let last = 0;
    const work = judgeParts(circle, ringAround(centre, 100.2), () => {
      parts += 1;
      return 'open';
    });
    while (work.next().done !== true) {
      most = Math.max(most, parts - last);
      last = parts;
    }
    expect(parts).toBeGreaterThan(500);
    expect(most).toBeLessThanOrEqual(2);
  });
});
