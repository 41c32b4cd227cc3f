import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { besideLine, flatLine } from '../../server/src/geo/beside-line.ts';
import { cornersAround, sidesFor } from '../../server/src/geo/circle-corners.ts';
import { destination, distance, inverse, legPath } from '../../server/src/geo/geodesy.ts';
import { type LonLat, lonLat } from '../../server/src/units/frames.ts';

const START = lonLat(-120.5, 47.5);

const beside = (places: readonly LonLat[], far: number) => {
  const line = flatLine(places);
  if (line === undefined) throw new Error('a line without length');
  return besideLine(line, far);
};

/** A line of 100 m sides that turns by some angles. */
const bent = (turns: readonly number[]): readonly LonLat[] => {
  const places = [START];
  let [at, course] = [START, 40];
  for (const turn of [0, ...turns]) {
    course += turn;
    at = destination(at, course, 100);
    places.push(at);
  }
  return places;
};

describe('a line beside another', () => {
  test('keeps its distance from every side, to the right where it is positive', () => {
    const turns = fc.array(fc.integer({ min: -90, max: 90 }), { maxLength: 5 });
    fc.assert(
      fc.property(turns, fc.integer({ min: -40, max: 40 }), (angles, far) => {
        const places = bent(angles);
        const found = beside(places, far);
        if ('tooSharpAt' in found) throw new Error(`too sharp at ${found.tooSharpAt}`);
        expect(found.places.length).toBe(places.length);
        found.places.slice(1).forEach((to, i) => {
          const from = found.places[i] ?? to;
          const side = legPath(places[i] ?? to, places[i + 1] ?? to);
          const path = legPath(from, to);
          const middle = inverse(side.from, path.at(path.length / 2));
          const across = middle.length * Math.sin(((middle.course - side.course) * Math.PI) / 180);
          expect(Math.abs(across - far)).toBeLessThan(0.01);
        });
      }),
      { seed: 20261125, numRuns: 200 },
    );
  });

  test('there is none where the line turns back or a bend is too tight for it', () => {
    expect(beside(bent([150]), 10)).toEqual({ tooSharpAt: 1 });
    expect('places' in beside(bent([150]), 0)).toBe(true);
    expect('tooSharpAt' in beside(bent([90, 90]), 60)).toBe(true);
    expect('places' in beside(bent([90, 90]), -60)).toBe(true);
  });

  test('there is none to a line without length', () => {
    expect(flatLine([START, START])).toBeUndefined();
    expect(flatLine([])).toBeUndefined();
  });
});

describe('a flown circle', () => {
  test('has so many sides that none lies more than 0.1 m inside it, and one fewer would', () => {
    for (const radius of [3, 12, 30, 100, 750, 5000]) {
      const sides = sidesFor(radius);
      const inside = (count: number): number => radius * (1 - Math.cos(Math.PI / count));
      expect(inside(sides)).toBeLessThanOrEqual(0.1 + 1e-9);
      if (sides > 8) expect(inside(sides - 1)).toBeGreaterThan(0.1);
      const corners = cornersAround(START, radius, { sides, turns: 1, begins: 0, turning: 'right' });
      const path = legPath(corners[0]?.at ?? START, corners[1]?.at ?? START);
      expect(radius - distance(START, path.at(path.length / 2))).toBeLessThan(0.101);
    }
  });

  test('begins where it says, turns as it says, and ends where it began', () => {
    const right = cornersAround(START, 50, { sides: 36, turns: 2, begins: 90, turning: 'right' });
    expect(right.length).toBe(73);
    expect(right.map(({ bearing }) => bearing).slice(0, 3)).toEqual([90, 100, 110]);
    expect(right[72]).toEqual(right[0]);
    const left = cornersAround(START, 50, { sides: 4, turns: 1, begins: 0, turning: 'left' });
    expect(left.map(({ bearing }) => bearing)).toEqual([0, 270, 180, 90, 0]);
    for (const { at } of right) expect(distance(START, at)).toBeCloseTo(50, 6);
  });
});
