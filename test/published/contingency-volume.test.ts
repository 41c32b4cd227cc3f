import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  contingencySideways,
  contingencyTop,
  contingencyUpwards,
  groundRiskBuffer,
  halfGeography,
  sumOf,
  usualBuffer,
  type VolumeCraft,
} from '../../server/src/facts/contingency-volume.ts';
import { aboveGround, degrees, metres, metresPerSecond, seconds } from '../../server/src/units/frames.ts';

/**
 * LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk Buffer, rev. 1.7 (2024-11-26): the worked
 * examples, read in a secondary copy. Printed to a decimeter; the ballistic one to a centimetre.
 */
const multirotor: VolumeCraft = {
  kind: 'multirotor',
  size: metres(1.5),
  bank: degrees(45),
  altimeter: 'barometer',
};
const fixedWing: VolumeCraft = { ...multirotor, kind: 'fixed-wing', bank: degrees(30) };
const still = () => metresPerSecond(0);
const at = metresPerSecond;

describe('the contingency volume', () => {
  test('of a multirotor at 10 m/s that tilts 45° reaches 22.1 m sideways', () => {
    const parts = contingencySideways(multirotor, at(10));
    expect(parts.reaction).toBe(10);
    expect(parts.manoeuvre).toBeCloseTo(5.1, 1);
    expect(Math.abs(sumOf(parts) - 22.1)).toBeLessThan(0.05);
  });

  test('of a fixed wing at 30 m/s that banks 30° reaches 195.9 m sideways, 158.9 m of them for its turn', () => {
    const parts = contingencySideways(fixedWing, at(30));
    expect(Math.abs(parts.manoeuvre - 158.9)).toBeLessThan(0.05);
    expect(Math.abs(sumOf(parts) - 195.9)).toBeLessThan(0.05);
  });

  test('of a multirotor at 10 m/s in a flight geography of 100 m reaches up to 113.1 m by a barometer', () => {
    expect(Math.abs(contingencyTop(multirotor, aboveGround(100), at(10)) - 113.1)).toBeLessThan(0.05);
  });

  test('has 4 m instead of 1 m for a height by satellites', () => {
    const bySatellites: VolumeCraft = { ...multirotor, altimeter: 'satellites' };
    expect(contingencyUpwards(bySatellites, at(10)) - contingencyUpwards(multirotor, at(10))).toBeCloseTo(3, 9);
  });

  test('of a fixed wing at 30 m/s has 0.3 V²/g upwards: 1 + 21 + 27.5 m (computed from the same formula)', () => {
    expect(contingencyUpwards(fixedWing, at(30))).toBeCloseTo(1 + 21 + (0.3 * 900) / 9.81, 9);
  });

  test('of a multirotor at 15 m/s reaches 33.5 m sideways (computed from the same formula)', () => {
    expect(sumOf(contingencySideways(multirotor, at(15)))).toBeCloseTo(33.468, 3);
  });

  test('of a craft that hovers is as wide as its errors', () => {
    expect(sumOf(contingencySideways({ ...multirotor, bank: degrees(0) }, at(0)))).toBe(7);
  });
});

describe('the flight geography', () => {
  test('is at least three times as wide as the aircraft', () => {
    expect(2 * halfGeography(multirotor)).toBe(4.5);
  });
});

describe('the ground risk buffer of an aircraft of 1.5 m under a volume of 113.1 m', () => {
  const top = aboveGround(113.1);

  test('is 113.85 m by the rule of 1:1', () => {
    expect(groundRiskBuffer(multirotor, '1:1', top, at(10), still)).toBeCloseTo(113.85, 9);
  });

  test('is 48.77 m for a multirotor that falls with 10 m/s', () => {
    const exact = aboveGround(100 + contingencyUpwards(multirotor, at(10)));
    expect(Math.abs(groundRiskBuffer(multirotor, 'ballistic', exact, at(10), still) - 48.77)).toBeLessThan(0.005);
  });

  test('is that of 1:1 for a fixed wing, which does not fall like a stone', () => {
    expect(groundRiskBuffer(fixedWing, 'ballistic', top, at(10), still)).toBeCloseTo(113.85, 9);
    expect(groundRiskBuffer(fixedWing, 'glide', top, at(10), still)).toBeCloseTo(113.85, 9);
  });

  test('is as many times the height as a fixed wing glides', () => {
    expect(groundRiskBuffer({ ...fixedWing, glideRatio: 12 }, 'glide', top, at(30), still)).toBeCloseTo(1357.2, 9);
  });

  test('is 201 m under a parachute that opens in 2 s and sinks with 5 m/s in 8 m/s of wind (computed from the same formula)', () => {
    const craft: VolumeCraft = { ...multirotor, parachute: { opensIn: seconds(2), sinks: at(5) } };
    const exact = aboveGround(100 + contingencyUpwards(multirotor, at(10)));
    expect(groundRiskBuffer(craft, 'parachute', exact, at(10), () => at(8))).toBeCloseTo(200.955, 3);
    expect(usualBuffer(craft)).toBe('parachute');
  });
});

describe('laws of the volumes', () => {
  const craft = fc.record({
    kind: fc.constantFrom('multirotor' as const, 'fixed-wing' as const),
    size: fc.double({ min: 0.1, max: 8, noNaN: true }).map(metres),
    bank: fc.double({ min: 5, max: 45, noNaN: true }).map(degrees),
    altimeter: fc.constantFrom('barometer' as const, 'satellites' as const),
    parachute: fc.constant({ opensIn: seconds(2), sinks: at(5) }),
    glideRatio: fc.integer({ min: 1, max: 30 }),
  });
  const speed = fc.double({ min: 0, max: 60, noNaN: true });
  const by = fc.constantFrom('1:1' as const, 'ballistic' as const, 'parachute' as const, 'glide' as const);

  test('faster never shrinks a volume or its buffer', () => {
    fc.assert(
      fc.property(craft, speed, speed, by, (own, one, other, way) => {
        const [slow, fast] = [at(Math.min(one, other)), at(Math.max(one, other))];
        expect(sumOf(contingencySideways(own, fast))).toBeGreaterThanOrEqual(sumOf(contingencySideways(own, slow)));
        expect(contingencyUpwards(own, fast)).toBeGreaterThanOrEqual(contingencyUpwards(own, slow));
        const buffer = (v: typeof fast) =>
          groundRiskBuffer(own, way, contingencyTop(own, aboveGround(50), v), v, () => at(6));
        expect(buffer(fast)).toBeGreaterThanOrEqual(buffer(slow));
      }),
    );
  });

  test('higher never shrinks a buffer, more bank never widens a volume', () => {
    fc.assert(
      fc.property(craft, speed, by, fc.nat(200), fc.nat(100), (own, v, way, height, more) => {
        const buffer = (h: number) => groundRiskBuffer(own, way, aboveGround(h), at(v), () => at(6));
        expect(buffer(height + more)).toBeGreaterThanOrEqual(buffer(height));
        const steeper: VolumeCraft = { ...own, bank: degrees(own.bank + 1) };
        expect(sumOf(contingencySideways(steeper, at(v)))).toBeLessThanOrEqual(sumOf(contingencySideways(own, at(v))));
      }),
    );
  });
});
