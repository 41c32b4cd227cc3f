import { describe, expect, test } from 'vitest';
import { readHeight } from '../../server/src/plan/scalars/height.ts';
import { nearestWord } from '../../server/src/plan/scalars/nearest-word.ts';
import { ELEVATIONS, readAmount } from '../../server/src/plan/scalars/quantity.ts';
import { readFollows, readLegSpeed } from '../../server/src/plan/scalars/speed.ts';

describe('a quantity is a number and a unit of its dimension', () => {
  test.each([
    ['60 m', 'length', 60, 'm', 60],
    ['60M', 'length', 60, 'm', 60],
    ['  60   metres ', 'length', 60, 'm', 60],
    ['60\u00a0m', 'length', 60, 'm', 60],
    ['200ft', 'length', 200, 'ft', 60.96],
    ['200 FEET', 'length', 200, 'ft', 60.96],
    ['3 SM', 'length', 3, 'mi', 4828.032],
    ['2 nm', 'length', 2, 'NM', 3704],
    ['2 NM', 'length', 2, 'NM', 3704],
    ['1.5 km', 'length', 1.5, 'km', 1500],
    ['8 m/s', 'speed', 8, 'm/s', 8],
    ['36 km/h', 'speed', 36, 'km/h', 10],
    ['25 min', 'time', 25, 'min', 1500],
    ['90S', 'time', 90, 's', 90],
    ['1.2 kg', 'mass', 1.2, 'kg', 1.2],
    ['18 C', 'temperature', 18, 'C', 18],
    ['-5 °C', 'temperature', -5, 'C', -5],
    ['\u22125 C', 'temperature', -5, 'C', -5],
    ['212 F', 'temperature', 212, 'F', 100],
    ['240 deg', 'angle', 240, 'deg', 240],
    ['240°', 'angle', 240, 'deg', 240],
    ['+5 m', 'length', 5, 'm', 5],
    ['0 m', 'length', 0, 'm', 0],
    ['-0 m', 'length', 0, 'm', 0],
  ] as const)('%j is read as a %s', (text, dimension, number, unit, value) => {
    const read = readAmount(text, dimension);
    expect(read).toMatchObject({ ok: true, number, unit });
    expect(read.ok && read.value).toBeCloseTo(value, 9);
  });

  test.each([
    ['1,5 m', '1.5 m', undefined],
    ['1,5m', '1.5m', undefined],
    ['0,500 m', '0.500 m', undefined],
    ['1,420 ft', '1420 ft', ['1.42 ft']],
    ['142,000,0 m', undefined, undefined],
    ['1.420,5 m', '1420.5 m', undefined],
    ['1,420.5 m', '1420.5 m', undefined],
    ['1 420 m', '1420 m', undefined],
    ["1'420 m", '1420 m', undefined],
    ['1_420 m', '1420 m', undefined],
    ['010 m', '10 m', undefined],
    ['00.5 m', '0.5 m', undefined],
    ['.5 m', '0.5 m', undefined],
    ['5. m', '5 m', undefined],
    ['1e3 m', '1000 m', undefined],
    ['2.5E-1 m', '0.25 m', undefined],
    ['1 1/2 SM', '1.5 SM', undefined],
    ['1/2 SM', '0.5 SM', undefined],
    ['1/3 SM', undefined, undefined],
    ['0x10 m', undefined, undefined],
    ['0o17 m', undefined, undefined],
    ['0b11 m', undefined, undefined],
    ['.nan', undefined, undefined],
    ['.inf m', undefined, undefined],
    ['NaN m', undefined, undefined],
    ['12:30 m', undefined, undefined],
    ['60-80 m', undefined, undefined],
    ['60 - 80 m', undefined, undefined],
    ['60 80 m', undefined, undefined],
    ['1..5 m', undefined, undefined],
    ['1,5,5 m', undefined, undefined],
    ['~60 m', undefined, undefined],
    ['\u0661 m', undefined, undefined],
    ['sixty m', undefined, undefined],
    ['m', undefined, undefined],
    ['', undefined, undefined],
  ])('%j never reaches arithmetic; %j is offered', (text, mended, alternatives) => {
    const read = readAmount(text, 'length');
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.slip).toMatchObject({ kind: 'number-unreadable', text, expected: 'a length such as 60 m' });
    expect('mended' in read.slip ? read.slip.mended : undefined).toBe(mended);
    expect('alternatives' in read.slip ? read.slip.alternatives : undefined).toEqual(alternatives);
  });

  test('a time in hours and minutes is understood and offered with one unit', () => {
    expect(readAmount('1 h 30 min', 'time')).toMatchObject({ slip: { kind: 'number-unreadable', mended: '90 min' } });
    expect(readAmount('5min 30s', 'time')).toMatchObject({ slip: { kind: 'number-unreadable', mended: '330 s' } });
    expect(readAmount('30 min 1 h', 'time')).toMatchObject({ slip: { kind: 'unit-unknown' } });
    expect(readAmount('4:30', 'time')).toEqual({
      ok: false,
      slip: { kind: 'number-unreadable', text: '4:30', expected: 'a time such as 25 min' },
    });
  });

  test.each([
    ['60', 'length', ['60 m', '60 ft']],
    ['8', 'speed', ['8 m/s', '8 kt', '8 km/h', '8 mph']],
    ['25', 'time', ['25 s', '25 min', '25 h']],
    ['1.2', 'mass', ['1.2 kg', '1.2 g', '1.2 lb', '1.2 oz']],
    ['18', 'temperature', ['18 C', '18 F']],
    ['240', 'angle', ['240 deg']],
    ['1,420', 'length', ['1420 m', '1420 ft', '1.42 m', '1.42 ft']],
    ['120', 'temperature', ['120 F']],
  ] as const)('a bare %j of %s is offered each unit that makes sense', (text, dimension, couldBe) => {
    expect(readAmount(text, dimension)).toMatchObject({ slip: { kind: 'number-without-unit', text, couldBe } });
  });

  test.each([
    ['60 kg', 'length', 'kg', ['60 m', '60 ft']],
    ['60 mtr', 'length', 'mtr', ['60 m', '60 ft']],
    ['60 feeet', 'length', 'feeet', ['60 ft', '60 m']],
    ['3 miles', 'length', 'miles', ['3 mi', '3 NM', '3 m', '3 ft']],
    ['25 m', 'time', 'm', ['25 min', '25 s', '25 h']],
    ['8 m', 'speed', 'm', ['8 m/s', '8 mph', '8 kt', '8 km/h']],
    ['60 m AGL', 'length', 'm AGL', ['60 m', '60 ft']],
    ['240 deg true', 'angle', 'deg true', ['240 deg']],
  ] as const)('%j as a %s has an unknown unit', (text, dimension, unit, couldBe) => {
    expect(readAmount(text, dimension)).toMatchObject({
      slip: { kind: 'unit-unknown', text, unit, dimension, couldBe },
    });
  });

  test.each([
    ['-1 kg', 'mass'],
    ['-3 m/s', 'speed'],
    ['400 deg', 'angle'],
    ['400', 'angle'],
    ['-1 m', 'length'],
    ['99999999999 m', 'length'],
    [`${'9'.repeat(400)} m`, 'length'],
  ] as const)('%j is out of the range of a %s', (text, dimension) => {
    expect(readAmount(text, dimension)).toMatchObject({ slip: { kind: 'number-out-of-range', text } });
  });

  test('an elevation may lie below the sea', () => {
    expect(readAmount('-430 m', 'length', ELEVATIONS)).toMatchObject({ ok: true, value: -430 });
    expect(readAmount('9001 m', 'length', ELEVATIONS)).toMatchObject({ slip: { kind: 'number-out-of-range' } });
  });
});

describe('a height is a number, metres or feet, and a datum', () => {
  test.each([
    ['60 m AGL', 60, 'm', 'AGL', { aboveGround: 60 }],
    ['60m agl', 60, 'm', 'AGL', { aboveGround: 60 }],
    ['60mAGL', 60, 'm', 'AGL', { aboveGround: 60 }],
    ['60 feetAGL', 60, 'ft', 'AGL', { aboveGround: 60 * 0.3048 }],
    ['60 m above ground level', 60, 'm', 'AGL', { aboveGround: 60 }],
    ['1350 ft AMSL', 1350, 'ft', 'AMSL', { aboveSea: 1350 * 0.3048 }],
    ['1350 FT MSL', 1350, 'ft', 'AMSL', { aboveSea: 1350 * 0.3048 }],
    ['-20 m AMSL', -20, 'm', 'AMSL', { aboveSea: -20 }],
    ['45 m above take-off', 45, 'm', 'above take-off', { aboveTakeOff: 45 }],
    ['45 m  Above  Takeoff', 45, 'm', 'above take-off', { aboveTakeOff: 45 }],
    ['-15 m above take-off', -15, 'm', 'above take-off', { aboveTakeOff: -15 }],
    ['512 m above ellipsoid', 512, 'm', 'above ellipsoid', { aboveEllipsoid: 512 }],
  ] as const)('%j is read', (text, number, unit, datum, value) => {
    expect(readHeight(text)).toEqual({ ok: true, number, unit, datum, value });
  });

  test('a bare number is offered units with datums', () => {
    expect(readHeight('60')).toMatchObject({
      slip: {
        kind: 'number-without-unit',
        number: '60',
        units: ['m AGL', 'ft AGL', 'm AMSL', 'ft AMSL', 'm above take-off', 'ft above take-off'],
        couldBe: ['60 m AGL', '60 ft AGL', '60 m AMSL', '60 ft AMSL', '60 m above take-off', '60 ft above take-off'],
      },
    });
  });

  test('a number with a datum and without a unit keeps the datum', () => {
    expect(readHeight('60 AGL')).toMatchObject({
      slip: { kind: 'number-without-unit', couldBe: ['60 m AGL', '60 ft AGL'] },
    });
  });

  test('without a datum none is assumed', () => {
    expect(readHeight('400 ft')).toEqual({
      ok: false,
      slip: {
        kind: 'altitude-without-datum',
        text: '400 ft',
        datums: ['AGL', 'AMSL', 'above take-off'],
        couldBe: ['400 ft AGL', '400 ft AMSL', '400 ft above take-off'],
      },
    });
  });

  test('a misspelt datum is offered first what it looks like', () => {
    expect(readHeight('60 m AMLS')).toMatchObject({
      slip: {
        kind: 'altitude-without-datum',
        found: 'AMLS',
        couldBe: ['60 m AMSL', '60 m AGL', '60 m above take-off'],
      },
    });
  });

  test('a unit in which heights are not given is converted where it is a length', () => {
    expect(readHeight('0.1 km AGL')).toMatchObject({ slip: { kind: 'unit-unknown', couldBe: ['100 m AGL'] } });
    expect(readHeight('60 kg AGL')).toMatchObject({
      slip: { kind: 'unit-unknown', couldBe: ['60 m AGL', '60 ft AGL'] },
    });
  });

  test('a number in another form is mended with its datum', () => {
    expect(readHeight('1,350 ft AMSL')).toMatchObject({
      slip: { kind: 'number-unreadable', mended: '1350 ft AMSL', alternatives: ['1.35 ft AMSL'] },
    });
    expect(readHeight('AGL 60 m')).toMatchObject({ slip: { kind: 'number-unreadable', mended: '60 m AGL' } });
    expect(readHeight('FL 50')).toMatchObject({ slip: { kind: 'number-unreadable' } });
  });

  test('no height lies below the ground or beyond the air that such aircraft fly in', () => {
    expect(readHeight('-5 m AGL')).toMatchObject({ slip: { kind: 'number-out-of-range' } });
    expect(readHeight('20001 m AMSL')).toMatchObject({ slip: { kind: 'number-out-of-range' } });
  });
});

describe('a leg has a speed and may follow the ground', () => {
  test.each([
    ['8 m/s', 8, undefined],
    ['8 m/s over ground', 8, 'over ground'],
    ['8 m/s  OVER  Ground', 8, 'over ground'],
    ['8 m/s GS', 8, 'over ground'],
    ['36 km/h through air', 10, 'through air'],
    ['8 m s-1 tas', 8, 'through air'],
  ])('%j is read', (text, value, speedIs) => {
    const read = readLegSpeed(text);
    expect(read).toMatchObject({ ok: true, value });
    expect(read.ok && read.speedIs).toBe(speedIs);
  });

  test('what follows the speed is kept in every text that is offered', () => {
    expect(readLegSpeed('8,5 m/s over ground')).toMatchObject({
      slip: { text: '8,5 m/s over ground', mended: '8.5 m/s over ground' },
    });
    expect(readLegSpeed('8 through air')).toMatchObject({
      slip: {
        kind: 'number-without-unit',
        couldBe: ['8 m/s through air', '8 kt through air', '8 km/h through air', '8 mph through air'],
      },
    });
    expect(readLegSpeed('8 m/s over grond')).toMatchObject({
      slip: {
        kind: 'word-unknown',
        suggestion: '8 m/s over ground',
        choices: ['8 m/s over ground', '8 m/s through air'],
      },
    });
  });

  test('a leg without speed never arrives', () => {
    expect(readLegSpeed('0 m/s over ground')).toMatchObject({
      slip: { kind: 'number-out-of-range', text: '0 m/s over ground' },
    });
  });

  test('following says the height above ground and how closely it is held', () => {
    expect(readFollows('60 m AGL within 5 m')).toEqual({
      ok: true,
      height: { number: 60, unit: 'm', datum: 'AGL', value: { aboveGround: 60 } },
      within: 5,
    });
    expect(readFollows('200ft agl WITHIN 10ft')).toMatchObject({ ok: true, within: 3.048 });
  });

  test.each([
    ['60 m AGL', 'number-unreadable', undefined],
    ['60 within 5 m', 'number-without-unit', ['60 m AGL within 5 m', '60 ft AGL within 5 m']],
    ['60 m within 5 m', 'altitude-without-datum', ['60 m AGL within 5 m']],
    ['60 m AMSL within 5 m', 'altitude-without-datum', ['60 m AGL within 5 m']],
    ['60 m AGL within 5', 'number-without-unit', ['60 m AGL within 5 m', '60 m AGL within 5 ft']],
    ['60 within 5', 'number-without-unit', []],
  ])('%j cannot be followed', (text, kind, couldBe) => {
    const read = readFollows(text);
    expect(read).toMatchObject({ ok: false, slip: { kind, text } });
    expect(!read.ok && 'couldBe' in read.slip ? read.slip.couldBe : undefined).toEqual(couldBe);
  });
});

describe('the nearest word is the one that was misspelt', () => {
  const keys = ['at', 'altitude', 'hold', 'leg', 'take-off', 'land', 'up-to', 'until'];
  test.each([
    ['altitud', 'altitude'],
    ['altittude', 'altitude'],
    ['atlitude', 'altitude'],
    ['Altitude', 'altitude'],
    ['takeoff', 'take-off'],
    ['take_off', 'take-off'],
    ['hodl', 'hold'],
    ['lnad', 'land'],
    ['untill', 'until'],
    ['speed', undefined],
    ['xy', undefined],
    ['a', undefined],
    ['', undefined],
    ['x'.repeat(100_000), undefined],
  ])('%j: %j', (text, nearest) => expect(nearestWord(text, keys)).toBe(nearest));

  test('among equals the first choice wins', () => {
    expect(nearestWord('lend', ['land', 'send'])).toBe('land');
    expect(nearestWord('lend', ['send', 'land'])).toBe('send');
  });
});
