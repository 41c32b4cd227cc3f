import { describe, expect, test } from 'vitest';
import { readPowerAtSpeed } from '../../server/src/plan/scalars/power.ts';
import { readAmount } from '../../server/src/plan/scalars/quantity.ts';

describe('energies, powers and shares', () => {
  test.each([
    ['90.4 Wh', 'energy', 90.4, 'Wh', 325_440],
    ['0.5 kWh', 'energy', 0.5, 'kWh', 1_800_000],
    ['90 watt-hours', 'energy', 90, 'Wh', 324_000],
    ['150 W', 'power', 150, 'W', 150],
    ['1.2kw', 'power', 1.2, 'kW', 1200],
    ['80 %', 'share', 80, '%', 0.8],
    ['80%', 'share', 80, '%', 0.8],
    ['25 percent', 'share', 25, '%', 0.25],
    ['0 %', 'share', 0, '%', 0],
  ] as const)('%j is read as %s', (text, dimension, number, unit, value) => {
    const read = readAmount(text, dimension);
    expect(read).toMatchObject({ ok: true, number, unit });
    expect(read.ok && read.value).toBeCloseTo(value, 9);
  });

  test('a bare number is refused with what it could be', () => {
    expect(readAmount('90', 'energy')).toMatchObject({
      slip: { kind: 'number-without-unit', couldBe: ['90 Wh', '90 kWh'] },
    });
    expect(readAmount('150', 'power')).toMatchObject({
      slip: { kind: 'number-without-unit', couldBe: ['150 W', '150 kW'] },
    });
    expect(readAmount('80', 'share')).toMatchObject({ slip: { kind: 'number-without-unit', couldBe: ['80 %'] } });
  });

  test('a bare part of one is offered as percent first', () => {
    expect(readAmount('0.8', 'share')).toMatchObject({
      slip: { kind: 'number-without-unit', couldBe: ['80 %', '0.8 %'] },
    });
  });

  test('charge is no energy, since the voltage is not in it', () => {
    expect(readAmount('5000 mAh', 'energy')).toMatchObject({ slip: { kind: 'unit-unknown', unit: 'mAh' } });
  });

  test.each([
    ['120 %', 'share'],
    ['-5 %', 'share'],
    ['0 Wh', 'energy'],
    ['0 W', 'power'],
    ['-20 W', 'power'],
  ] as const)('%j is out of range', (text, dimension) => {
    expect(readAmount(text, dimension)).toMatchObject({ slip: { kind: 'number-out-of-range', text } });
  });
});

describe('a power at a speed', () => {
  test('is read with both units', () => {
    expect(readPowerAtSpeed('180 W at 12 m/s')).toMatchObject({
      ok: true,
      power: { number: 180, unit: 'W', value: 180 },
      speed: { number: 12, unit: 'm/s', value: 12 },
    });
    expect(readPowerAtSpeed('0.18 kW  AT 20 kt')).toMatchObject({ ok: true, power: { value: 180 } });
  });

  test.each([
    ['180 at 12 m/s', '180 W at 12 m/s'],
    ['180 W at 12', '180 W at 12 m/s'],
  ])('%j is offered with its unit, and the offer is read', (text, offer) => {
    const read = readPowerAtSpeed(text);
    expect(read).toMatchObject({ slip: { kind: 'number-without-unit', text } });
    expect(!read.ok && 'couldBe' in read.slip && read.slip.couldBe).toContain(offer);
    expect(readPowerAtSpeed(offer).ok).toBe(true);
  });

  test.each(['180 W', 'at 12 m/s', '180 W at', 'full power at 12 m/s'])('%j is told what is wanted', (text) => {
    const read = readPowerAtSpeed(text);
    expect(read).toMatchObject({ ok: false, slip: { text } });
  });

  test('a speed of nought is out of range: there is the hover for it', () => {
    expect(readPowerAtSpeed('180 W at 0 m/s')).toMatchObject({ slip: { kind: 'number-out-of-range' } });
  });
});
