import { describe, expect, test } from 'vitest';
import { flightStages } from '../../server/src/facts/flight-stages.ts';
import { flownItems, flownLegs } from '../../server/src/facts/flown-legs.ts';
import { itemHeight } from '../../server/src/facts/item-height.ts';
import { pathOfLeg } from '../../server/src/facts/leg-path.ts';
import { patternCourse, patternPoints } from '../../server/src/facts/pattern.ts';
import { patternHeights, patternLines } from '../../server/src/facts/pattern-heights.ts';
import { photoPlan } from '../../server/src/facts/photo-plan.ts';
import { photoStops } from '../../server/src/facts/photo-stops.ts';
import { routePlaceOf } from '../../server/src/facts/route-order.ts';
import { distance } from '../../server/src/geo/geodesy.ts';
import { LEVEL_GROUND, type MadePlan, madePlan, SITE, worldWith } from './made-plan.ts';

const WORLD = worldWith([LEVEL_GROUND]);

const route = (...items: readonly string[]): MadePlan =>
  madePlan(
    `${SITE}route:\n  - take-off: home\n    climb-to: 60 m AGL\n${items.map((item) => `  - ${item}\n`).join('')}  - land: home\n`,
    WORLD,
  );

const flightOf = ({ plan }: MadePlan) => {
  const [flight] = plan.flights;
  if (flight === undefined) throw new Error('the plan has no flight');
  return flight;
};

const SQUARE =
  'inside: { polygon: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.5 }, { lat: 47.501, lon: -120.499 }, { lat: 47.5, lon: -120.499 }] }';
const survey = (rest: string): string => `{ survey: meadow, ${SQUARE}, ${rest} }`;
const CAMERA =
  'camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm }';

const whyNot = (item: string, name = 'meadow'): string => {
  const made = route(item);
  const course = made.tools.ask(patternCourse, made.item(name));
  if (course.kind !== 'impossible') throw new Error('it can be flown');
  // The rest of the flight is still there, with the pattern as a place that is not known.
  expect(made.tools.ask(flownItems, flightOf(made)).map(({ kind }) => kind)).toEqual([
    'take-off',
    made.item(name).kind,
    'land',
  ]);
  return course.why;
};

describe('a pattern in a flight', () => {
  const made = route(
    survey(
      'altitude: 60 m AGL, course: 90 deg, spacing: 40 m, speed: 6 m/s over ground, leg: { speed: 8 m/s over ground }',
    ),
    '{ hold: 30 s }',
    '{ point: bank, at: { lat: 47.5, lon: -120.4995 }, altitude: 70 m AGL }',
  );
  const { tools } = made;
  const legs = tools.ask(flownLegs, flightOf(made));

  test('is flown from its first point to its last, between the items before and after', () => {
    expect(legs.map(({ from, to }) => `${from.id.value} > ${to.id.value}`)).toEqual([
      'home > meadow line 1 start',
      'meadow line 1 start > meadow line 1 end',
      'meadow line 1 end > meadow line 2 start',
      'meadow line 2 start > meadow line 2 end',
      'meadow line 2 end > meadow line 3 start',
      'meadow line 3 start > meadow line 3 end',
      'meadow line 3 end > bank',
      'bank > home',
    ]);
    expect(tools.ask(flownItems, flightOf(made)).filter(({ kind }) => kind === 'hold').length).toBe(1);
  });

  test('has the speed of its leg on the way in, and its own on the lines and between them', () => {
    expect(legs.map(({ to }) => to.leg?.speed?.value)).toEqual([8, 6, 6, 6, 6, 6, undefined, undefined]);
  });

  test('knows its lines from the ways between them, and every point its place in the route', () => {
    const item = made.item('meadow');
    expect(tools.ask(patternLines, item).map((leg) => leg.to.partOf?.line)).toEqual([1, 2, 3]);
    for (const leg of legs) {
      expect(routePlaceOf(leg.to, tools).arriving).toBe(leg);
      expect(routePlaceOf(leg.from, tools).leaving).toBe(leg);
    }
    expect(routePlaceOf(item, tools).arriving).toBeUndefined();
  });

  test('stands with every point where it stands in the text', () => {
    const item = made.item('meadow');
    for (const point of tools.ask(patternPoints, item)) {
      expect(point.id.span).toBe(item.id.span);
      expect(point.altitude).toBe(item.pattern?.altitude);
    }
  });

  test('has its height at each point, and the same legs when it is asked again', () => {
    for (const point of tools.ask(patternPoints, made.item('meadow'))) {
      expect(tools.ask(itemHeight, point).arriving.aboveSea).toBeCloseTo(460, 6);
    }
    const { least, greatest } = tools.ask(patternHeights, made.item('meadow'));
    expect(least.place.value).toBe(60);
    expect(greatest.place.value).toBe(60);
    expect(tools.ask(flownLegs, flightOf(made))).toBe(legs);
  });

  test('lies above take-off where that is written, also when its lines hang on its height', () => {
    const other = route(
      survey(`altitude: 58 m above take-off, course: 0 deg, overlap: { front: 75 %, side: 65 % }, ${CAMERA}`),
    );
    // The take-off place is written 2 m higher than the ground: 58 m above it are 60 m above the ground.
    expect(other.tools.ask(photoPlan, other.item('meadow')).height).toBeCloseTo(60, 6);
    const [, first] = other.tools.ask(flownItems, flightOf(other));
    if (first === undefined) throw new Error('no point');
    expect(other.tools.ask(itemHeight, first).arriving.aboveSea).toBeCloseTo(460, 6);
  });
});

describe('the lines of a survey', () => {
  test('lie as far apart as the overlap of its camera says', () => {
    const made = route(survey(`altitude: 100 m AGL, course: 0 deg, overlap: { front: 75 %, side: 65 % }, ${CAMERA}`));
    const [one, other] = made.tools.ask(patternLines, made.item('meadow'));
    if (one === undefined || other === undefined) throw new Error('no two lines');
    expect(distance(made.tools.ask(pathOfLeg, one).to, made.tools.ask(pathOfLeg, other).from)).toBeCloseTo(52.5, 1);
  });

  test('are not made of nonsense', () => {
    expect(whyNot(survey('altitude: 60 m AGL, course: 0 deg, spacing: 0 m'))).toBe(
      'the lines of meadow lie 0 m from each other',
    );
    expect(whyNot(survey('altitude: 60 m AGL, course: 0 deg, spacing: 0.00001 m'))).toMatch(
      /^meadow would have \d{7} lines; at most 2000 are worked out$/,
    );
    expect(whyNot(survey(`altitude: 60 m AGL, course: 0 deg, overlap: { side: 100 % }, ${CAMERA}`))).toBe(
      'the lines of meadow lie 0 m from each other',
    );
  });

  test('are lacking, not guessed, where their spacing, camera or outline is', () => {
    const why = (text: string): string => {
      const made = route(text);
      try {
        made.tools.ask(patternCourse, made.item('meadow'));
      } catch (error) {
        return error instanceof Error ? error.message : '';
      }
      throw new Error('it was worked out');
    };
    expect(why(survey('altitude: 60 m AGL, course: 0 deg'))).toContain('neither `spacing` nor `overlap');
    expect(why(survey('altitude: 60 m AGL, spacing: 40 m'))).toContain('the course of the lines of meadow is missing');
    expect(why('{ survey: meadow, altitude: 60 m AGL, course: 0 deg, spacing: 40 m }')).toContain(
      'the outline of meadow is missing',
    );
    expect(why(survey(`course: 0 deg, overlap: { side: 60 % }, ${CAMERA}`))).toContain(
      'the altitude of meadow is missing',
    );
    expect(
      why(
        survey(
          'altitude: 60 m AGL, course: 0 deg, overlap: { side: 60 % }, camera: { sensor: { across: 13 mm, along: 9 mm } }',
        ),
      ),
    ).toContain('the focal length of the camera of meadow is missing');
  });
});

describe('a key that could not be read', () => {
  const why = (text: string): string => {
    const made = route(text);
    expect(made.plan.slips.length).toBe(2);
    try {
      made.tools.ask(patternCourse, made.item('meadow'));
    } catch (error) {
      return error instanceof Error ? error.message : '';
    }
    return '';
  };

  test('does not mean what its absence would mean', () => {
    for (const [key, value] of [
      ['first-turn', 'lefft'],
      ['first-line', 'two'],
      ['follows', '60 m'],
      ['spacing', '40'],
    ] as const) {
      const spacing = key === 'spacing' ? '' : 'spacing: 40 m, ';
      expect(why(survey(`altitude: 60 m AGL, course: 0 deg, ${spacing}${key}: ${value}`)), key).toBe(
        `the ${key} of meadow could not be read, so its legs are not known`,
      );
    }
    expect(why(survey('altitude: 60 m AGL, course: 0 deg, spacing: 40 m, frist-turn: left'))).toBe(
      'the first-turn of meadow could not be read, so its legs are not known',
    );
  });

  test('and that says nothing of the way leaves the legs as they are', () => {
    expect(why(survey('altitude: 60 m AGL, course: 0 deg, spacing: 40 m, ground-sampling-distance: fine'))).toBe('');
  });
});

describe('photos of a survey', () => {
  const stopping = CAMERA.replace('focal-length', 'stops: 2 s, focal-length');

  test('for which the aircraft stops take their time on every line, and on no way between lines', () => {
    const made = route(survey(`altitude: 100 m AGL, course: 0 deg, overlap: { front: 75 %, side: 65 % }, ${stopping}`));
    const lines = new Set(made.tools.ask(patternLines, made.item('meadow')));
    expect(lines.size).toBe(2);
    for (const leg of made.tools.ask(flownLegs, flightOf(made))) {
      // 111.19 m with 25 m from photo to photo: six photos.
      expect(made.tools.ask(photoStops, leg)).toBe(lines.has(leg) ? 12 : 0);
    }
    const { stages } = made.tools.ask(flightStages, flightOf(made));
    expect(stages.filter(({ kind }) => kind === 'hold').map(({ shortest, longest }) => [shortest, longest])).toEqual([
      [12, 12],
      [12, 12],
    ]);
  });

  test('for which it stops nobody knows how often are lacking', () => {
    const made = route(survey(`altitude: 100 m AGL, course: 0 deg, spacing: 50 m, ${stopping}`));
    const [line] = made.tools.ask(patternLines, made.item('meadow'));
    if (line === undefined) throw new Error('no line');
    expect(() => made.tools.ask(photoStops, line)).toThrow(
      'the front overlap of meadow, which says how often it stops',
    );
    expect(
      made.tools.ask(flightStages, flightOf(made)).lacking.some(({ missing }) => missing.includes('front overlap')),
    ).toBe(true);
  });
});

describe('two patterns one after the other', () => {
  test('each have their own stages', () => {
    const made = route(
      survey('altitude: 60 m AGL, course: 0 deg, spacing: 90 m'),
      '{ circle: tower, around: { lat: 47.5, lon: -120.5 }, radius: 30 m, turns: 1, sides: 3, altitude: 45 m AGL }',
    );
    const stages = made.tools.ask(flightStages, flightOf(made)).stages.filter(({ kind }) => kind === 'leg');
    expect(stages.map(({ leg }) => leg)).toEqual(made.tools.ask(flownLegs, flightOf(made)));
  });
});

describe('a corridor', () => {
  const along = 'along: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.499 }, { lat: 47.501, lon: -120.497 }]';

  test('is flown to and fro beside its middle, around every bend', () => {
    const made = route(`{ corridor: path, ${along}, width: 60 m, lines: 3, altitude: 60 m AGL }`);
    const points = made.tools.ask(patternPoints, made.item('path'));
    expect(points.map(({ id }) => id.value.replace('path ', ''))).toEqual([
      'line 1 start',
      'line 1 corner 1',
      'line 1 end',
      'line 2 start',
      'line 2 corner 1',
      'line 2 end',
      'line 3 start',
      'line 3 corner 1',
      'line 3 end',
    ]);
    const [lats, lons] = [points.map(({ at }) => at?.value.lat ?? 0), points.map(({ at }) => at?.value.lon ?? 0)];
    // The first line lies on the left of the first side, to its north-west; the second on the middle, flown back.
    expect(lats[2]).toBeCloseTo(47.501 + 20 / 111_190, 5);
    expect(lons[5]).toBeCloseTo(-120.5, 6);
    expect(lats[5]).toBeCloseTo(47.5, 6);
    expect(lats[8]).toBeCloseTo(47.501 - 20 / 111_190, 5);
    expect(made.tools.ask(patternLines, made.item('path')).length).toBe(6);
  });

  test('gets as many lines as its width takes at the spacing', () => {
    const count = (rest: string): number => {
      const made = route(`{ corridor: path, ${along}, ${rest}, altitude: 60 m AGL }`);
      return made.tools.ask(patternPoints, made.item('path')).at(-1)?.partOf?.line ?? 0;
    };
    expect(count('width: 60 m, spacing: 20 m')).toBe(3);
    expect(count('width: 61 m, spacing: 20 m')).toBe(4);
    expect(count('width: 10 m, spacing: 20 m')).toBe(1);
  });

  test('is not made of nonsense', () => {
    const back = 'along: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.499 }, { lat: 47.5001, lon: -120.5 }]';
    expect(whyNot(`{ corridor: path, ${back}, width: 30 m, lines: 2, altitude: 60 m AGL }`, 'path')).toBe(
      'path bends too sharply at corner 2 for a line 7.5 m beside its middle',
    );
    const spot = 'along: [{ lat: 47.5, lon: -120.5 }, { lat: 47.5, lon: -120.5 }]';
    expect(whyNot(`{ corridor: path, ${spot}, width: 30 m, lines: 2, altitude: 60 m AGL }`, 'path')).toBe(
      'all corners of path are at the same place',
    );
    expect(whyNot(`{ corridor: path, ${along}, width: 30 m, lines: 90000, altitude: 60 m AGL }`, 'path')).toContain(
      'path would have 90000 lines',
    );
    expect(whyNot(`{ corridor: path, ${along}, width: 30 m, lines: 1900, altitude: 60 m AGL }`, 'path')).toContain(
      'path would have 5700 points',
    );
  });
});

describe('a circle', () => {
  test('is flown as often as it says and ends where it begins', () => {
    const made = route(
      '{ circle: tower, around: { lat: 47.5, lon: -120.5 }, radius: 30 m, turns: 2, sides: 4, begins: 90 deg, altitude: 45 m AGL }',
    );
    const points = made.tools.ask(patternPoints, made.item('tower'));
    expect(points.map(({ id }) => id.value)).toEqual([
      'tower turn 1 bearing 90 deg',
      'tower turn 1 bearing 180 deg',
      'tower turn 1 bearing 270 deg',
      'tower turn 1 bearing 0 deg',
      'tower turn 2 bearing 90 deg',
      'tower turn 2 bearing 180 deg',
      'tower turn 2 bearing 270 deg',
      'tower turn 2 bearing 0 deg',
      'tower turn 2 bearing 90 deg end',
    ]);
    expect(points.at(-1)?.at?.value).toEqual(points[0]?.at?.value);
  });

  test('is not made of nonsense', () => {
    const tower = (rest: string): string =>
      `{ circle: tower, around: { lat: 47.5, lon: -120.5 }, altitude: 45 m AGL, ${rest} }`;
    expect(whyNot(tower('radius: 0 m, turns: 1'), 'tower')).toBe('tower has a radius of 0 m');
    expect(whyNot(tower('radius: 20 m, turns: 1000'), 'tower')).toContain('tower would have 32000 sides');
    expect(whyNot(tower('radius: 20 m, turns: 1, sides: 2'), 'tower')).toBe('tower has fewer than three sides');
  });
});
