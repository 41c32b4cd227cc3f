import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isWithinHours } from '../../server/src/facts/zone-hours.ts';
import { destination } from '../../server/src/geo/geodesy.ts';
import { insideShape } from '../../server/src/geo/shape.ts';
import { LENGTH_UNITS } from '../../server/src/units/convert.ts';
import { instant, lonLat } from '../../server/src/units/frames.ts';
import { readNotice } from '../../server/src/world/notice.ts';
import { areaIn } from '../../server/src/world/notice-area.ts';
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

/** In the forms of ICAO Doc 8126 (from memory); 5 NM east of the centre lie 0° 7' 24" of longitude at 47.5° N. */
const ARC =
  '473000N1203000W - 473500N1203000W THENCE CLOCKWISE ALONG AN ARC OF RADIUS 5NM CENTRED ON 473000N1203000W TO 473000N1202236W - 473000N1203000W';

const CENTRE = lonLat(-120.5, 47.5);
const FIVE_MILES = 5 * 1852;

/** Whether a text's area holds the places at so many metres from the centre, at each bearing. */
const holds = (text: string, metresAway: number, bearings: readonly number[]): readonly boolean[] => {
  const area = areaIn(text);
  if (area === undefined) throw new Error('not understood');
  return bearings.map((bearing) =>
    area.shapes.some((shape) => insideShape(shape, destination(CENTRE, bearing, metresAway))),
  );
};

describe('arcs in a text', () => {
  const CLOCKWISE = [5, 30, 45, 60, 85];
  const BEYOND = [135, 180, 225, 270, 315];

  test('a quarter of a disc: all of its ground within 5 NM and none beyond, to the second of arc of its corners', () => {
    expect(holds(ARC, FIVE_MILES - 40, CLOCKWISE)).toEqual(CLOCKWISE.map(() => true));
    expect(holds(ARC, FIVE_MILES + 40, CLOCKWISE)).toEqual(CLOCKWISE.map(() => false));
    expect(holds(ARC, 1000, BEYOND)).toEqual(BEYOND.map(() => false));
  });

  test.each([
    ['the other way round', ARC.replace('CLOCKWISE', 'ANTICLOCKWISE')],
    ['with a hyphen', ARC.replace('CLOCKWISE', 'ANTI-CLOCKWISE')],
    ['in American words', ARC.replace('CLOCKWISE', 'COUNTERCLOCKWISE').replace('CENTRED', 'CENTERED')],
  ])('%s it is the other three quarters', (_, text) => {
    expect(holds(text, FIVE_MILES - 40, BEYOND)).toEqual(BEYOND.map(() => true));
    expect(holds(text, FIVE_MILES + 40, BEYOND)).toEqual(BEYOND.map(() => false));
    expect(holds(text, 1000, CLOCKWISE)).toEqual(CLOCKWISE.map(() => false));
  });

  test.each([
    ARC.replace('ALONG AN ARC OF RADIUS 5NM CENTRED ON', 'BY AN ARC OF A CIRCLE OF 5NM RADIUS CENTRED AT'),
    ARC.replace(
      'THENCE CLOCKWISE ALONG AN ARC OF RADIUS 5NM CENTRED ON 473000N1203000W',
      'THEN CLOCKWISE ARC CENTRE 473000N1203000W RADIUS 9.26KM',
    ),
    ARC.replace('RADIUS 5NM', 'RADIUS 5 NM').replace(' - 473000N1203000W', ''),
  ])('other words for the same: %s', (text) => {
    expect(holds(text, FIVE_MILES - 40, [45])).toEqual([true]);
    expect(holds(text, FIVE_MILES + 40, [45])).toEqual([false]);
  });

  test('the area of a quarter disc is a quarter of that of the circle, to a thousandth', () => {
    const area = areaIn(ARC)?.shapes[0];
    if (area?.kind !== 'polygons') throw new Error('no polygon');
    const [ring = []] = area.polygons[0] ?? [];
    // The shoelace formula in metres around the centre.
    const places = ring.map(({ lon, lat }) => ({
      x: (lon + 120.5) * 111_320 * Math.cos((47.5 * Math.PI) / 180) * 1.00168,
      y: (lat - 47.5) * 111_173,
    }));
    const twice = places.reduce((sum, { x, y }, i) => {
      const next = places[(i + 1) % places.length] ?? { x, y };
      return sum + x * next.y - next.x * y;
    }, 0);
    expect(Math.abs(twice / 2) / ((Math.PI * FIVE_MILES ** 2) / 4)).toBeCloseTo(1, 2);
  });

  test.each([
    ['an end that does not lie on the arc', ARC.replace('473000N1202236W', '473000N1202536W')],
    ['two lengths', ARC.replace('5NM', '5NM OR 6NM')],
    ['no radius', ARC.replace('OF RADIUS 5NM ', '')],
    ['no direction', ARC.replace('CLOCKWISE ', '')],
    ['words that are not known', ARC.replace('ALONG AN ARC', 'ALONG AN ARC PARALLEL TO THE RIVER')],
    [
      'an arc that begins the outline',
      'CLOCKWISE ARC RADIUS 5NM CENTRED ON 473000N1203000W TO 473000N1202236W - 473500N1203000W',
    ],
    [
      'two arcs without a corner between',
      `${ARC} THENCE CLOCKWISE ARC RADIUS 5NM CENTRED ON 473000N1203000W THENCE CLOCKWISE ARC RADIUS 5NM CENTRED ON 473000N1203000W`,
    ],
  ])('%s is not understood', (_, text) => {
    expect(areaIn(text)).toBeUndefined();
  });
});

describe('what a text excludes', () => {
  const OUTER = '472000N1204500W - 474000N1204500W - 474000N1201500W - 472000N1201500W';

  test('is cut out, whether it is a circle or a polygon', () => {
    const circle = `${OUTER} EXCLUDING WI 2NM RADIUS OF 473000N1203000W`;
    expect(areaIn(circle)?.open).toBeUndefined();
    expect(holds(circle, 2 * 1852 - 10, [0, 90, 200])).toEqual([false, false, false]);
    expect(holds(circle, 2 * 1852 + 10, [0, 90, 200])).toEqual([true, true, true]);
    const polygon = `${OUTER} EXC 472900N1203100W - 473100N1203100W - 473100N1202900W - 472900N1202900W`;
    expect(holds(polygon, 500, [0, 90])).toEqual([false, false]);
    expect(holds(polygon, 5000, [0, 90])).toEqual([true, true]);
  });

  test('is cut out of a circle', () => {
    const text = 'WI 5NM RADIUS OF 473000N1203000W EXCLUDING WI 1NM RADIUS OF 473000N1203000W';
    expect(holds(text, 1800, [10])).toEqual([false]);
    expect(holds(text, 1900, [10])).toEqual([true]);
    // A circle that has become a ring has lost nothing at its edge.
    expect(holds(text, FIVE_MILES - 0.1, [0, 0.5, 45.5])).toEqual([true, true, true]);
    expect(holds(text, FIVE_MILES + 1, [0, 0.5, 45.5])).toEqual([false, false, false]);
  });

  test.each([
    ['that was not understood', `${OUTER} EXCLUDING THE CTR OF LAKES`, 'could not be read'],
    ['across its edge', `${OUTER} EXCEPT WI 2NM RADIUS OF 474000N1203000W`, 'across its edge'],
    ['outside of it', `${OUTER} EXCEPT WI 2NM RADIUS OF 484000N1203000W`, 'across its edge'],
    [
      'twice over each other',
      `${OUTER} EXCLUDING WI 2NM RADIUS OF 473000N1203000W AND WI 2NM RADIUS OF 473100N1203000W`,
      'across its edge',
    ],
  ])('%s leaves the whole area, and it is open', (_, text, open) => {
    expect(areaIn(text)?.open).toContain(open);
    expect(holds(text, 500, [0, 90])).toEqual([true, true]);
    expect(readNotice(NOTICE.replace('WI 1.5NM RADIUS OF 473012N1203048W', text)).bounds).toContain(open);
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
    'SR MINUS 30-SS PLUS 30',
    'HJ',
    'DAILY 0600 - 1800 EXC SAT AND SUN',
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
    'DAILY 0600-1800 EXC',
    'DAILY EXC SAT 0600-1800 EXC SUN',
    'DAILY 0600-1800 EXC SAT 0700-0900',
    'SR MINUS A WHILE-SS',
    '',
  ])('of the schedule "%s" nothing is taken', (text) => {
    if (begins === undefined) throw new Error('no time');
    expect(readSchedule(text, begins, ends)).toBeUndefined();
  });

  /** Whether the schedule is active in a minute, as far as its weekly hours and its periods tell. */
  const isActive = (schedule: string, time: string, at = lonLat(-78.65, 35 + 47 / 60)): boolean => {
    const [from, until] = [readGroup('1507010000'), readGroup('1507312359')];
    if (from === undefined) throw new Error('no time');
    const times = readSchedule(schedule, from, until);
    if (times === undefined) throw new Error('not read');
    const moment = instant(Date.parse(time));
    return times.some(
      (each) =>
        !('untold' in each) &&
        (each.from ?? moment) <= moment &&
        moment < (each.until ?? Number.POSITIVE_INFINITY) &&
        (each.weekly ?? []).some((weekly) => isWithinHours(weekly, moment, instant(moment + 60_000), at, 0)),
    );
  };

  // U.S. Naval Observatory: Raleigh on 12 July 2015, sunrise 10:08 UTC, sunset 00:32 UTC of the next day. Tables are
  // printed to the minute, so two minutes are left open on either side.
  test('minutes before sunrise and after sunset count from the published times', () => {
    const schedule = 'SR MINUS 30-SS PLUS 20';
    expect(isActive(schedule, '2015-07-12T09:35Z')).toBe(false);
    expect(isActive(schedule, '2015-07-12T09:40Z')).toBe(true);
    expect(isActive(schedule, '2015-07-13T00:50Z')).toBe(true);
    expect(isActive(schedule, '2015-07-13T00:55Z')).toBe(false);
    expect(isActive('SR PLUS30-SS MINUS 20 MIN', '2015-07-12T10:35Z')).toBe(false);
    expect(isActive('SR PLUS30-SS MINUS 20 MIN', '2015-07-12T10:40Z')).toBe(true);
    expect(isActive('HJ', '2015-07-12T10:12Z')).toBe(true);
    expect(isActive('HN', '2015-07-12T10:12Z')).toBe(false);
  });

  // 12 July 2015 was a Sunday.
  test.each([
    ['DAILY 0600-1800 EXC SAT SUN', '2015-07-12T10:00Z', false],
    ['DAILY 0600-1800 EXC SAT AND SUN', '2015-07-13T10:00Z', true],
    ['DAILY EXC SUN 0600-1800', '2015-07-12T10:00Z', false],
    ['DAILY EXC SUN 0600-1800', '2015-07-11T10:00Z', true],
    ['MON-SUN 0600-1800 EXC 12', '2015-07-12T10:00Z', false],
    ['MON-SUN 0600-1800 EXC 12', '2015-07-19T10:00Z', true],
    ['JUL 10-14 0600-1800 EXC JUL 12', '2015-07-12T10:00Z', false],
    ['JUL 10-14 0600-1800 EXC JUL 12', '2015-07-13T10:00Z', true],
    ['10-14 0600-1800 EXC SUN', '2015-07-12T10:00Z', false],
    // What begins on the day before still ends in the morning of the excepted day.
    ['DAILY 2000-0400 EXC SUN', '2015-07-12T03:00Z', true],
    ['DAILY 2000-0400 EXC SUN', '2015-07-13T03:00Z', false],
  ])('"%s" at %s: %s', (schedule, time, active) => {
    expect(isActive(schedule, time)).toBe(active);
  });
});
