import { describe, expect, test } from 'vitest';
import { ageAt } from '../../server/src/facts/data-age.ts';
import { instant } from '../../server/src/units/frames.ts';

const at = instant(Date.UTC(2026, 5, 14, 13, 40));
const source = (retrieved?: string) => ({
  name: 'zones.geojson',
  edition: '7',
  ...(retrieved === undefined ? {} : { retrieved }),
});

describe('the age of data at a time', () => {
  test('counts in days from RFC 3339 times, with decimals and offsets', () => {
    expect(ageAt(source('2026-06-12T13:40:00Z'), at)).toBe(2);
    expect(ageAt(source('2026-06-12T06:40:00.250-07:00'), at)).toBe(2);
    expect(ageAt(source('2026-06-15T13:40:00Z'), at)).toBe(-1);
  });

  test('is not known where nothing or something else is said', () => {
    expect(ageAt(source(), at)).toBeUndefined();
    expect(ageAt(source('in spring'), at)).toBeUndefined();
  });
});
