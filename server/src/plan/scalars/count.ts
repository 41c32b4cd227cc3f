import { refuseNumber } from './quantity.ts';
import { type Reading, refuse } from './reading.ts';

export interface ReadCount {
  readonly value: number;
}

const EXPECTED = 'a whole number such as 3';

/** Reads a number of things: `3`. Nought of something is not written down. */
export const readCount = (text: string): Reading<ReadCount> => {
  const tidy = text.trim();
  if (!/^\d{1,9}$/.test(tidy)) return refuseNumber(text, EXPECTED, []);
  const value = Number(tidy);
  if (value < 1 || value > 100_000) {
    return refuse({ kind: 'number-out-of-range', text, expected: 'between 1 and 100000' });
  }
  return { ok: true, value };
};
