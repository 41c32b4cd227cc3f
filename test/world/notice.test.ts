import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LENGTH_UNITS } from '../../server/src/units/convert.ts';
import { readNotice } from '../../server/src/world/notice.ts';
import { shapesIn } from '../../server/src/world/notice-shape.ts';
import { readGroup, readSchedule } from '../../server/src/world/notice-times.ts';

/** Made for these tests, in the form of ICAO Annex 15 (from memory). */
const NOTICE = `(A0412/26 NOTAMN
Q) KZSE/QRTCA/IV/BO/W/000/020/4730N12030W002
A) KZSE B) 2606141300 C) 2606142300
E) TEMPORARY RESTRICTED AREA WI 1.5NM RADIUS OF 473012N1203048W
DUE TO FIRE FIGHTING (SEE A) BELOW)
F) SFC G) 2000FT AMSL)`;

describe('a notice', () => {
  test('becomes a zone with its circle, heights, times and words', () => {
    const notice = readNotice(NOTICE);
    expect(notice.unread).toBeUndefined();
    expect(notice.bounds).toBeUndefined();
    expect(notice.name).toBe('A0412/26');
    expect(notice.zones).toHaveLength(1);
    const [zone] = notice.zones;
    expect(zone).toMatchObject({
      kind: 'restricted',
      floor: 'surface',
      ceiling: { aboveSea: 2000 * LENGTH_UNITS.ft },
      active: [{ from: Date.UTC(2026, 5, 14, 13), until: Date.UTC(2026, 5, 14, 23) }],
      text: 'TEMPORARY RESTRICTED AREA WI 1.5NM RADIUS OF 473012N1203048W DUE TO FIRE FIGHTING (SEE A) BELOW)',
    });
    if (zone?.shape.kind !== 'circle') throw new Error('no circle');
    // 47°30'12" N, 120°30'48" W
    expect(zone.shape.centre.lat).toBeCloseTo(47.503_333, 6);
    expect(zone.shape.centre.lon).toBeCloseTo(-120.513_333, 6);
    expect(zone.shape.radius).toBeCloseTo(1.5 * 1852, 6);
  });

  test.each([
    ['QRPCA', 'prohibited'],
    ['QRDCA', 'danger'],
    ['QRRCA', 'restricted'],
    ['QWULW', 'danger'],
  ])('the code %s makes it %s', (code, kind) => {
    expect(readNotice(NOTICE.replace('QRTCA', code)).zones[0]?.kind).toBe(kind);
  });

  test('without F) and G) the limits of Q) count, in hundreds of feet of pressure altitude', () => {
    const [zone] = readNotice(NOTICE.replace(/F\) SFC G\) 2000FT AMSL/, '')).zones;
    expect(zone?.floor).toBe('surface');
    expect(zone?.ceiling).toEqual({ pressureAltitude: 2000 * LENGTH_UNITS.ft });
  });

  test.each([
    ['FL065', { pressureAltitude: 6500 * LENGTH_UNITS.ft }],
    ['1500FT AGL', { aboveGround: 1500 * LENGTH_UNITS.ft }],
    ['450M AMSL', { aboveSea: 450 }],
    ['1500FT MSL', { aboveSea: 1500 * LENGTH_UNITS.ft }],
    ['UNL', 'unlimited'],
  ])('the upper limit %s is read', (written, ceiling) => {
    expect(readNotice(NOTICE.replace('2000FT AMSL', written)).zones[0]?.ceiling).toEqual(ceiling);
  });

  test('where the text tells no limits, the circle of Q) with a mile more bounds it', () => {
    const notice = readNotice(NOTICE.replace(/WI 1.5NM RADIUS OF 473012N1203048W/, 'R-99 ACTIVE'));
    expect(notice.bounds).toContain('R-99 ACTIVE');
    const [zone] = notice.zones;
    if (zone?.shape.kind !== 'circle') throw new Error('no circle');
    expect(zone.shape.radius).toBeCloseTo(3 * 1852, 6);
  });

  test('any text is read without an exception, and something is said of it', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            fc.constantFrom(
              'Q)',
              'A)',
              'B)',
              'C)',
              'D)',
              'E)',
              'F)',
              'G)',
              '2606141300',
              'PERM',
              'SFC',
              '473012N1203048W',
              'RADIUS',
              '2NM',
              'KZSE/QRTCA/IV/BO/W/000/020/4730N12030W002',
            ),
            fc.string(),
          ),
          { maxLength: 20 },
        ),
        (parts) => {
          const notice = readNotice(parts.join(' '));
          expect(notice.zones.length > 0 || notice.unread !== undefined || notice.ends !== undefined).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('shapes in a text', () => {
  test.each([
    ['CIRCLE RADIUS 2NM CENTRE 4730N 12030W', 2 * 1852],
    ['CIRCLE RADIUS: 2 NM CENTRE 473000N 1203000W', 2 * 1852],
    ['WI 500M RADIUS OF 473000N1203000W', 500],
    ['473000N 1203000W RADIUS 3KM', 3000],
    ['RADIUS OF 1.5 NM CENTRED ON 473000.0N1203000.0W', 1.5 * 1852],
  ])('%s is a circle', (text, radius) => {
    const shapes = shapesIn(text);
    expect(shapes).toHaveLength(1);
    const [circle] = shapes ?? [];
    if (circle?.kind !== 'circle') throw new Error('no circle');
    expect(circle.centre).toEqual({ lon: -120.5, lat: 47.5 });
    expect(circle.radius).toBeCloseTo(radius, 6);
  });

  test('corners are a polygon, closed or not, also in the south and the east', () => {
    const open = shapesIn('4730S01030E - 4731S01030E - 4731S01031E');
    expect(open).toEqual(shapesIn('4730S01030E - 4731S01030E - 4731S01031E - 4730S01030E'));
    const [polygon] = open ?? [];
    if (polygon?.kind !== 'polygons') throw new Error('no polygon');
    expect(polygon.polygons[0]?.[0]?.[0]).toEqual({ lon: 10.5, lat: -47.5 });
    expect(polygon.polygons[0]?.[0]).toHaveLength(3);
  });

  test.each([
    ['an arc', '4730N12030W THEN CLOCKWISE ARC TO 4731N12030W - 4731N12031W'],
    ['two positions', '4730N12030W - 4731N12030W'],
    ['a position beside a circle', 'WI 2NM RADIUS OF 4730N12030W, CONTACT AT 4731N12031W'],
    ['a radius of nothing', 'WI 2NM RADIUS OF THE FIELD 4730N12030W 4731N12030W 4731N12031W RADIUS'],
    ['sixty minutes', '4760N12030W - 4731N12030W - 4731N12031W'],
    ['no place', 'ALL OF THE VALLEY'],
  ])('%s is not understood, and nothing is made of the rest', (_, text) => {
    expect(shapesIn(text)).toBeUndefined();
  });
});

describe('times of notices', () => {
  test('groups of ten digits are in UTC', () => {
    expect(readGroup('2606140600')).toBe(Date.UTC(2026, 5, 14, 6));
    expect(readGroup('2802290000')).toBe(Date.UTC(2028, 1, 29));
  });

  test.each(['2606310600', '2613010600', '2702290000', '260614060', '2606142500', '2606140660'])(
    '%s is none',
    (text) => {
      expect(readGroup(text)).toBeUndefined();
    },
  );

  const begins = readGroup('2606010000');
  const ends = readGroup('2606302359');

  test.each([
    'DAILY 0600-1800',
    'MON-FRI 0600-1800',
    'SAT SUN 0600-1200 1400-1800',
    'SR-SS',
    'H24',
    'JUN 14 16-18 0600-1800',
    '02 04 0600-1800, 06 0800-0900',
  ])('the schedule "%s" is read', (text) => {
    if (begins === undefined) throw new Error('no time');
    expect(readSchedule(text, begins, ends)?.length).toBeGreaterThan(0);
  });

  test.each([
    'EXC HOL 0600-1800',
    'MON-FRI',
    '0600-2560',
    'JUN 31 0600-1800',
    'DAILY 0600-1800, SOMETIMES',
    'SR MINUS 30-SS',
    '',
  ])('of the schedule "%s" nothing is taken', (text) => {
    if (begins === undefined) throw new Error('no time');
    expect(readSchedule(text, begins, ends)).toBeUndefined();
  });
});
