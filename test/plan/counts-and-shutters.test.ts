import { describe, expect, test } from 'vitest';
import { readCount } from '../../server/src/plan/scalars/count.ts';
import { readShutter } from '../../server/src/plan/scalars/shutter.ts';

const mended = (text: string): string | undefined => {
  const read = readShutter(text);
  return !read.ok && read.slip.kind === 'number-unreadable' ? read.slip.mended : undefined;
};

describe('an exposure time', () => {
  test('is read as it is engraved on cameras, and in seconds', () => {
    for (const [text, value] of [
      ['1/1000 s', 0.001],
      ['1 / 250s', 0.004],
      ['1/3.2 s', 1 / 3.2],
      ['0.002 s', 0.002],
      ['2 ms', 0.002],
      ['1.5 S', 1.5],
    ] as const) {
      const read = readShutter(text);
      expect(read.ok && read.value, text).toBeCloseTo(value, 12);
    }
  });

  test('without a unit is offered with one', () => {
    expect(mended('1/250')).toBe('1/250 s');
    expect(mended('1000')).toBe('1/1000 s');
  });

  test('is not read from anything else', () => {
    for (const text of ['', 'fast', '1/0 s', '2/3 s', '0 s', '-1 s', '61 s', '1/1000 m', 'NaN s', '1/1e3 s']) {
      expect(readShutter(text).ok, text).toBe(false);
    }
  });
});

describe('a count', () => {
  test('is a whole number from one on', () => {
    expect(readCount(' 12 ')).toEqual({ ok: true, value: 12 });
    for (const text of ['0', '-1', '1.5', '100001', '1e3', '', 'two', '9999999999']) {
      expect(readCount(text).ok, text).toBe(false);
    }
  });
});
