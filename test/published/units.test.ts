import { describe, expect, test } from 'vitest';
import { readAmount } from '../../server/src/plan/scalars/quantity.ts';
import { LENGTH_UNITS, MASS_UNITS, SPEED_UNITS } from '../../server/src/units/convert.ts';
import { sayMetresAndFeet } from '../../server/src/units/say.ts';

describe('exact factors', () => {
  // NIST SP 811 (2008), appendix B.8, and ICAO Annex 5, table 3-3: from memory.
  test.each([
    ['foot', LENGTH_UNITS.ft, 0.3048],
    ['statute mile', LENGTH_UNITS.mi, 1609.344],
    ['nautical mile', LENGTH_UNITS.NM, 1852],
    ['mile per hour', SPEED_UNITS.mph, 0.44704],
    ['pound', MASS_UNITS.lb, 0.45359237],
    ['ounce', MASS_UNITS.oz, 0.028349523125],
  ])('%s', (_, factor, published) => expect(factor).toBe(published));

  test('knot: 1852/3600 m/s, printed as 5.144444 E-01', () => expect(SPEED_UNITS.kt).toBeCloseTo(0.5144444, 7));
  test('kilometre per hour: printed as 2.777778 E-01 m/s', () => expect(SPEED_UNITS['km/h']).toBeCloseTo(0.2777778, 7));
  test('the exact factors hang together', () => {
    expect(5280 * LENGTH_UNITS.ft).toBeCloseTo(LENGTH_UNITS.mi, 9);
    expect(16 * MASS_UNITS.oz).toBeCloseTo(MASS_UNITS.lb, 15);
    expect(LENGTH_UNITS.mi / 3600).toBeCloseTo(SPEED_UNITS.mph, 15);
  });
});

describe('limits of law that are printed in two units', () => {
  const inSi = (text: string, dimension: 'length' | 'speed' | 'mass'): number => {
    const read = readAmount(text, dimension);
    return read.ok ? read.value : Number.NaN;
  };

  test('14 CFR 107.51(a): 87 knots (100 miles per hour)', () => {
    expect(inSi('87 kt', 'speed') / SPEED_UNITS.mph).toBeCloseTo(100.12, 2);
    expect(Math.round(inSi('87 kt', 'speed') / SPEED_UNITS.mph)).toBe(100);
    expect(Math.round(inSi('100 mph', 'speed') / SPEED_UNITS.kt)).toBe(87);
    expect(inSi('87 kt', 'speed')).toBeCloseTo(44.756667, 6);
    expect(inSi('87 kt', 'speed') * 3.6).toBeCloseTo(161.124, 9);
  });

  test('14 CFR 107.51(b): 400 feet', () => expect(inSi('400 ft', 'length')).toBeCloseTo(121.92, 12));
  test('14 CFR 107.51(c): 3 statute miles', () => expect(inSi('3 SM', 'length')).toBeCloseTo(4828.032, 9));
  test('14 CFR 107.51(d): 500 feet and 2,000 feet', () => {
    expect(inSi('500 ft', 'length')).toBeCloseTo(152.4, 12);
    expect(inSi('2000 ft', 'length')).toBeCloseTo(609.6, 12);
  });
  test('14 CFR 107.3: 55 pounds', () => expect(inSi('55 lb', 'mass')).toBeCloseTo(24.94758035, 9));
  test('14 CFR 107.110: 0.55 pounds', () => expect(inSi('0.55 lb', 'mass')).toBeCloseTo(0.2494758, 7));
  test('(EU) 2019/947 UAS.OPEN.010(2): 120 metres, which the authorities print as 400 feet', () => {
    expect(inSi('120 m', 'length') / LENGTH_UNITS.ft).toBeCloseTo(393.7008, 4);
    expect(sayMetresAndFeet(120)).toBe('120 m (393.7 ft)');
  });
});

describe('temperatures', () => {
  // The fixed points of the two scales, NIST SP 811 (2008) B.8: from memory.
  test.each([
    ['32 F', 0],
    ['212 F', 100],
    ['-40 F', -40],
  ])('%s is %i C', (text, celsius) => {
    const read = readAmount(text, 'temperature');
    expect(read.ok && read.value).toBeCloseTo(celsius, 12);
  });
});
