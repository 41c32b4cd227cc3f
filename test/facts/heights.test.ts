import { describe, expect, test } from 'vitest';
import { areaHeight } from '../../server/src/facts/area-height.ts';
import { NotAssessed } from '../../server/src/facts/fact.ts';
import { itemAboveGround, itemHeight } from '../../server/src/facts/item-height.ts';
import { itemPlace } from '../../server/src/facts/item-place.ts';
import { requireWhole } from '../../server/src/facts/lacking.ts';
import { legAltitudes } from '../../server/src/facts/leg-altitudes.ts';
import { legHeight } from '../../server/src/facts/leg-height.ts';
import { takeOffElevation } from '../../server/src/facts/take-off-elevation.ts';
import { destination } from '../../server/src/geo/geodesy.ts';
import { LENGTH_UNITS } from '../../server/src/units/convert.ts';
import { exceeds } from '../../server/src/units/exceeds.ts';
import { aboveGround, lonLat } from '../../server/src/units/frames.ts';
import { flatGrid, surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

const level = worldWith([LEVEL_GROUND]);

/** A ridge that runs north to south at 120.49 west, 150 m above 400 m, straight slopes with a node at top and foot. */
const ridge = surfaceGrid(LATTICE, (lon) => 400 + 150 * Math.max(0, 1 - Math.abs(lon + 120.49) / 0.005), 9);

const ROUTE = `${SITE}route:
  - take-off: home
  - point: east
    at: 47.5, -120.48
    altitude: 60 m AGL
  - point: north
    at: 47.51, -120.48
    altitude: 480 m AMSL
  - point: back
    at: 47.51, -120.5
    altitude: 50 m above take-off
  - land: home
`;

describe('where an item is', () => {
  test('a take-off and a landing of its name are at the site, a point where it says', () => {
    const { tools, item } = madePlan(ROUTE, level);
    expect(tools.ask(itemPlace, item('home'))).toEqual(lonLat(-120.5, 47.5));
    expect(tools.ask(itemPlace, tools.plan.items[4] ?? item('home'))).toEqual(lonLat(-120.5, 47.5));
    expect(tools.ask(itemPlace, item('east'))).toEqual(lonLat(-120.48, 47.5));
  });

  test('a landing without a position is at the take-off of its name, also of an earlier flight', () => {
    const { tools, plan } = madePlan(
      `route:
  - take-off: east-field
    at: 47.5, -120.48
    climb-to: 30 m AGL
  - land: west-field
    at: 47.5, -120.5
  - take-off: west-field
    at: 47.5, -120.5
    climb-to: 30 m AGL
  - land: east-field
`,
      level,
    );
    const last = plan.items[3];
    expect(last && tools.ask(itemPlace, last)).toEqual(lonLat(-120.48, 47.5));
  });

  test('an area is at its centre, or inside it where its centre is not', () => {
    const { tools, item } = madePlan(
      `${SITE}route:
  - take-off: home
  - area: round
    inside: { circle: 25 m, around: { lat: 47.501, lon: -120.499 } }
    from: 5 m AGL
    to: 40 m AGL
    for: 4 min
  - area: bent
    inside: { polygon: [ { lat: 47.5, lon: -120.5 }, { lat: 47.5, lon: -120.49 }, { lat: 47.501, lon: -120.49 }, { lat: 47.501, lon: -120.499 }, { lat: 47.51, lon: -120.499 }, { lat: 47.51, lon: -120.5 } ] }
    from: 5 m AGL
    to: 40 m AGL
    for: 4 min
  - land: home
`,
      level,
    );
    expect(tools.ask(itemPlace, item('round'))).toEqual(lonLat(-120.499, 47.501));
    const place = tools.ask(itemPlace, item('bent'));
    expect(place.lat < 47.501 || place.lon < -120.499).toBe(true);
  });
});

describe('how high an item is', () => {
  test('in each frame, with the height above ground as written', () => {
    const { tools, item } = madePlan(ROUTE, level);
    expect(tools.ask(itemHeight, item('east')).arriving).toMatchObject({ aboveSea: 460, aboveGround: 60 });
    expect(tools.ask(itemHeight, item('north')).arriving.aboveSea).toBe(480);
    expect(tools.ask(itemHeight, item('north')).arriving.aboveGround).toBeUndefined();
    expect(tools.ask(itemHeight, item('back')).arriving.aboveSea).toBe(452);
    expect(tools.ask(itemAboveGround, item('back'))).toBe(52);
  });

  test('a take-off climbs to the next height as written, above the ground of its own place', () => {
    const { tools, item } = madePlan(ROUTE, worldWith([surfaceGrid(LATTICE, (lon) => 400 + (lon + 120.5) * 5000)]));
    const { leaving } = tools.ask(itemHeight, item('home'));
    expect(leaving.aboveGround).toBe(60);
    expect(leaving.aboveSea).toBeCloseTo(460, 6);
    expect(tools.ask(itemHeight, item('east')).arriving.aboveSea).toBeCloseTo(560, 6);
  });

  test('a landing is approached at the height before it as written', () => {
    const { tools, plan } = madePlan(ROUTE, level);
    const landing = plan.items[4];
    expect(landing && tools.ask(itemHeight, landing).arriving.aboveSea).toBe(452);
  });

  test('climb-to goes before the next height', () => {
    const { tools, item } = madePlan(ROUTE.replace('take-off: home', 'take-off: home\n    climb-to: 90 m AGL'), level);
    expect(tools.ask(itemHeight, item('home')).leaving).toMatchObject({ aboveSea: 490, aboveGround: 90 });
  });

  test('an area is entered and left level where its band allows, else at its nearer end', () => {
    const area = (at: string, from: string, to: string): string =>
      `  - area: ${at}\n    inside: { circle: 25 m, around: { lat: 47.501, lon: -120.499 } }\n    from: ${from}\n    to: ${to}\n    for: 4 min\n`;
    const point = (id: string, height: string): string =>
      `  - point: ${id}\n    at: 47.502, -120.499\n    altitude: ${height}\n`;
    const { tools, item } = madePlan(
      `${SITE}route:\n  - take-off: home\n${point('a', '30 m AGL')}${area('within', '5 m AGL', '40 m AGL')}${point('b', '80 m AGL')}${area('below', '5 m AGL', '40 m AGL')}${point('c', '3 m AGL')}  - land: home\n`,
      level,
    );
    expect(tools.ask(itemHeight, item('within')).arriving.aboveSea).toBe(430);
    expect(tools.ask(itemHeight, item('within')).leaving.aboveSea).toBe(440);
    expect(tools.ask(itemHeight, item('below')).arriving.aboveSea).toBe(440);
    expect(tools.ask(itemHeight, item('below')).leaving.aboveSea).toBe(405);
  });

  test('a flight of one area goes there and comes back at its upper end', () => {
    const { tools, item, plan } = madePlan(
      `${SITE}route:\n  - take-off: home\n  - area: roof\n    inside: { circle: 25 m, around: { lat: 47.501, lon: -120.499 } }\n    from: 5 m AGL\n    to: 40 m AGL\n    for: 4 min\n  - land: home\n`,
      level,
    );
    expect(tools.ask(itemHeight, item('home')).leaving.aboveGround).toBe(40);
    expect(tools.ask(itemHeight, item('roof'))).toMatchObject({
      arriving: { aboveSea: 440 },
      leaving: { aboveSea: 440 },
    });
    const landing = plan.items[2];
    expect(landing && tools.ask(itemHeight, landing).arriving.aboveGround).toBe(40);
  });

  test('above the ellipsoid it is not assessed, and says what it needs', () => {
    const { tools, item } = madePlan(ROUTE.replace('480 m AMSL', '480 m above ellipsoid'), level);
    expect(() => tools.ask(itemHeight, item('north'))).toThrow(/needs a geoid grid/);
  });

  test('without terrain it is not assessed, but a height above ground is still the one written', () => {
    const { tools, item } = madePlan(ROUTE, worldWith([]));
    expect(() => tools.ask(itemHeight, item('east'))).toThrow(NotAssessed);
    expect(tools.ask(itemAboveGround, item('east'))).toBe(60);
    expect(tools.ask(itemHeight, item('north')).arriving.aboveSea).toBe(480);
  });

  test('400 ft AGL over level ground at any elevation is 400 ft, and 400.02 ft always more', () => {
    const limit = aboveGround(400 * LENGTH_UNITS.ft);
    for (let i = 0; i < 1000; i++) {
      const elevation = -100 + i * 4.1373;
      const world = worldWith([flatGrid({ west: -121, north: 48, step: 0.5, columns: 3, rows: 3 }, elevation)]);
      for (const [written, isOver] of [
        ['400 ft AGL', false],
        ['400.02 ft AGL', true],
      ] as const) {
        const { tools, item, legTo } = madePlan(
          `${SITE}route:\n  - take-off: home\n  - point: a\n    at: 47.5, -120.51\n    altitude: ${written}\n  - point: b\n    at: 47.51, -120.52\n    altitude: ${written}\n  - land: home\n`,
          world,
        );
        expect(exceeds(tools.ask(itemAboveGround, item('a')), limit)).toBe(isOver);
        expect(exceeds(tools.ask(legHeight, legTo('b')).greatest.value, limit)).toBe(isOver);
      }
    }
  });
});

describe('the take-off elevation', () => {
  test("is the plan's own, else the ground", () => {
    const written = madePlan(ROUTE, level);
    expect(written.tools.ask(takeOffElevation, written.item('home')).value).toBe(402);
    const unwritten = madePlan(ROUTE.replace(', elevation: 402 m', ''), level);
    expect(unwritten.tools.ask(takeOffElevation, unwritten.item('home'))).toEqual({ value: 400 });
    expect(() => {
      const none = madePlan(ROUTE.replace(', elevation: 402 m', ''), worldWith([]));
      none.tools.ask(takeOffElevation, none.item('home'));
    }).toThrow('the test has none');
  });

  test("of a take-off elsewhere is not the site's", () => {
    const { tools, item } = madePlan(ROUTE.replace('take-off: home', 'take-off: home\n    at: 47.501, -120.5'), level);
    expect(tools.ask(takeOffElevation, item('home')).value).toBe(400);
  });
});

describe('how high a leg is above the ground', () => {
  test('is least over a ridge between two points that look fine', () => {
    const { tools, legTo } = madePlan(ROUTE, worldWith([ridge]));
    const height = tools.ask(legHeight, legTo('east'));
    expect(height.least.value).toBeLessThan(-85);
    expect(height.least.at.lon).toBeCloseTo(-120.49, 4);
    expect(height.greatest).toMatchObject({ value: 60, along: 0 });
    expect(height.error).toBe(9);
    requireWhole(height);
  });

  test('of a leg that follows the terrain is what it holds', () => {
    const { tools, legTo } = madePlan(
      ROUTE.replace('altitude: 60 m AGL', 'altitude: 60 m AGL\n    leg: { follows: 60 m AGL within 5 m }'),
      worldWith([ridge]),
    );
    const leg = legTo('east');
    expect(tools.ask(legAltitudes, leg).kind).toBe('follows');
    expect(tools.ask(legHeight, leg)).toMatchObject({ least: { value: 55 }, greatest: { value: 65 } });
  });

  test('over a hole in the terrain is told for the rest, with the hole', () => {
    const holed = surfaceGrid(LATTICE, (lon) => (Math.abs(lon + 120.485) < 0.001 ? Number.NaN : 400));
    const { tools, legTo } = madePlan(ROUTE.replace('60 m AGL', '150 m AGL'), worldWith([holed]));
    const height = tools.ask(legHeight, legTo('east'));
    expect(height.greatest.value).toBe(150);
    expect(() => requireWhole(height)).toThrow(/no data over \d+ m of leg home to east, from 1[.\d]* ?k?m/);
  });

  test('without any ground is not assessed', () => {
    const { tools, legTo } = madePlan(ROUTE, worldWith([flatGrid({ ...LATTICE, west: 10 }, 0)]));
    expect(() => tools.ask(legHeight, legTo('north'))).toThrow(NotAssessed);
  });
});

describe('how high a hand-flown area is above the ground', () => {
  const area = (from: string, to: string): string =>
    `${SITE}route:\n  - take-off: home\n  - area: hill\n    inside: { circle: 300 m, around: { lat: 47.505, lon: -120.49 } }\n    from: ${from}\n    to: ${to}\n    for: 4 min\n  - land: home\n`;

  test('written above ground is that, without terrain too', () => {
    const { tools, item } = madePlan(area('5 m AGL', '40 m AGL'), worldWith([]));
    expect(tools.ask(areaHeight, item('hill'))).toMatchObject({ least: { value: 5 }, greatest: { value: 40 } });
  });

  test('written above the sea counts from its lowest and highest ground', () => {
    const { tools, item } = madePlan(area('560 m AMSL', '600 m AMSL'), worldWith([ridge]));
    const height = tools.ask(areaHeight, item('hill'));
    expect(height.least.value).toBeCloseTo(10, 6);
    const rim = destination(lonLat(-120.49, 47.505), 90, 300);
    const lowest = 400 + 150 * (1 - (rim.lon + 120.49) / 0.005);
    // The polygon that stands for the circle is up to 0.03 % wider: 5 cm down this slope.
    expect(Math.abs(height.greatest.value - (600 - lowest))).toBeLessThan(0.06);
  });

  test('above take-off counts from the take-off elevation', () => {
    const { tools, item } = madePlan(area('10 m above take-off', '50 m above take-off'), level);
    expect(tools.ask(areaHeight, item('hill'))).toMatchObject({ least: { value: 12 }, greatest: { value: 52 } });
  });

  test('partly beyond the terrain is not assessed', () => {
    const { tools, item } = madePlan(area('500 m AMSL', '600 m AMSL').replace('300 m', '9 km'), level);
    expect(() => tools.ask(areaHeight, item('hill'))).toThrow(/no data in a part of hill/);
  });
});
