import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  finalClass,
  type IntrinsicClass,
  intrinsicClass20,
  intrinsicClass25,
} from '../../server/src/facts/ground-risk-class.ts';
import { FOOT_POUND, fallSpeed, kineticEnergy, terminalSpeed } from '../../server/src/facts/impact-energy.ts';

const out = 'outside';

/** JARUS SORA 2.5, main body, table 2 (JAR_doc_25, p. 34), every second row; read in a secondary copy. */
describe('the intrinsic ground risk class of SORA 2.5', () => {
  const craft = [
    [1, 25],
    [3, 35],
    [8, 75],
    [20, 120],
    [40, 200],
  ] as const;
  const rows: readonly (readonly [number | 'controlled ground', readonly IntrinsicClass[]])[] = [
    ['controlled ground', [1, 1, 2, 3, 3]],
    [49, [3, 4, 5, 6, 7]],
    [4999, [5, 6, 7, 8, 9]],
    [60_000, [7, 8, out, out, out]],
  ];
  test.each(rows)('over %s', (density, classes) => {
    expect(craft.map(([size, maxSpeed]) => intrinsicClass25({ size, maxSpeed, density }))).toEqual(classes);
  });

  test('a density at the end of a row belongs to the next one', () => {
    expect(intrinsicClass25({ size: 1, maxSpeed: 25, density: 500 })).toBe(5);
    expect(intrinsicClass25({ size: 1, maxSpeed: 25, density: 499.9 })).toBe(4);
  });

  test('1.5 m, 20 m/s, 300 people/km2 give 5; M1(A) low leaves 4 (computed from the table)', () => {
    expect(intrinsicClass25({ size: 1.5, maxSpeed: 20, density: 300 })).toBe(5);
    expect(finalClass(5, 1, 'SORA 2.5', ['M1(A) low'])).toBe(4);
  });

  test('0.9 m, but 30 m/s, over 40 people/km2 give 4: the speed takes the next column (computed from the table)', () => {
    expect(intrinsicClass25({ size: 0.9, maxSpeed: 30, density: 40 })).toBe(4);
  });

  test('up to 250 g and 25 m/s it is 1, whatever the density', () => {
    expect(intrinsicClass25({ size: 0.4, maxSpeed: 25, mass: 0.25, density: 60_000 })).toBe(1);
    expect(intrinsicClass25({ size: 0.4, maxSpeed: 25, mass: 0.251, density: 60_000 })).toBe(7);
    expect(intrinsicClass25({ size: 0.4, maxSpeed: 25.1, mass: 0.25, density: 60_000 })).toBe(8);
  });

  test('M1 goes no lower than controlled ground, M2 does (from memory)', () => {
    expect(finalClass(2, 1, 'SORA 2.5', ['M1(A) medium', 'M1(B) high'])).toBe(1);
    expect(finalClass(4, 1, 'SORA 2.5', ['M1(A) low', 'M2 high'])).toBe(1);
  });

  test('larger, faster or over more people it is never lower', () => {
    const rank = (one: IntrinsicClass): number => (one === out ? 99 : one);
    const up = fc.double({ min: 0, max: 50, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 45, noNaN: true }),
        fc.double({ min: 0, max: 210, noNaN: true }),
        fc.double({ min: 0, max: 60_000, noNaN: true }),
        up,
        up,
        up,
        (size, maxSpeed, density, a, b, c) => {
          const more = intrinsicClass25({ size: size + a, maxSpeed: maxSpeed + b, density: density + 1000 * c });
          expect(rank(more)).toBeGreaterThanOrEqual(rank(intrinsicClass25({ size, maxSpeed, density })));
        },
      ),
    );
  });
});

/** JARUS SORA 2.0, main body, table 2 (JAR_doc_06, p. 20-21), every second row; read in a secondary copy. */
describe('the intrinsic ground risk class of SORA 2.0', () => {
  const craft = [
    [1, 699],
    [3, 33_999],
    [8, 1_083_999],
    [9, 2_000_000],
  ] as const;
  test.each([
    ['controlled ground', 'BVLOS', [1, 2, 3, 4]],
    ['sparsely populated', 'BVLOS', [3, 4, 5, 6]],
    ['populated', 'BVLOS', [5, 6, 8, 10]],
    ['gathering of people', 'BVLOS', [8, out, out, out]],
  ] as const)('over %s ground, %s', (population, sight, classes) => {
    expect(craft.map(([size, energy]) => intrinsicClass20({ size, energy, population, sight }))).toEqual(classes);
  });

  test('700 J are too much for the first column', () => {
    expect(intrinsicClass20({ size: 1, energy: 700, population: 'populated', sight: 'VLOS' })).toBe(5);
  });

  test('without a plan for emergencies one is added, with a validated one it is one less', () => {
    expect(finalClass(4, 1, 'SORA 2.0', [])).toBe(5);
    expect(finalClass(4, 1, 'SORA 2.0', ['M1 low', 'M3 adequate'])).toBe(3);
    expect(finalClass(4, 1, 'SORA 2.0', ['M3 validated'])).toBe(3);
  });
});

describe('the energy of an impact', () => {
  /** Values printed beside (EU) 2019/945 class C1 (1) and 14 CFR 107.120(a)(1) in a derivation note, a secondary copy. */
  test.each([
    [0.3, 9.9, 14.7],
    [0.3, 10, 15],
    [0.9, 13.3, 79.6],
    [0.9, 13.4, 80.8],
  ])('of %d kg at %d m/s is %d J', (mass, speed, energy) => {
    expect(Math.abs(kineticEnergy(mass, speed) - energy)).toBeLessThan(0.051);
  });

  test('11 ft-lb are 14.914 J, 25 ft-lb 33.895 J (NIST SP 811)', () => {
    expect(11 * FOOT_POUND).toBeCloseTo(14.913997, 6);
    expect(25 * FOOT_POUND).toBeCloseTo(33.895449, 6);
  });

  /** Computed from vt = sqrt(2 m g / (rho Cd A)); no printed source. */
  test.each([
    [0.249, 0.02, 14.12],
    [0.9, 0.032, 21.2],
    [4, 0.12, 23.1],
  ])('%d kg with a drag of %d m2 fall with %d m/s at most', (mass, drag, speed) => {
    expect(Math.abs(terminalSpeed(mass, drag) - speed)).toBeLessThan(0.06);
  });

  test('with drag a fall is slower than without, and never faster than its terminal speed', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 500, noNaN: true }),
        fc.double({ min: 0.1, max: 25, noNaN: true }),
        fc.double({ min: 0.005, max: 1, noNaN: true }),
        (height, mass, drag) => {
          const speed = fallSpeed(height, mass, drag);
          expect(speed).toBeLessThanOrEqual(fallSpeed(height, mass, undefined) + 1e-9);
          expect(speed).toBeLessThanOrEqual(terminalSpeed(mass, drag) + 1e-9);
        },
      ),
    );
  });
});
