import { describe, expect, test } from 'vitest';
import { groundSpeed } from '../../server/src/facts/ground-speed.ts';
import { requireWhole } from '../../server/src/facts/lacking.ts';
import { areaObstacles, areaOverTop, legObstacles, legOverTop } from '../../server/src/facts/obstacle-passes.ts';
import { sightRange } from '../../server/src/facts/sight-range.ts';
import { areaSlantRanges, legSlantRanges } from '../../server/src/facts/slant-range.ts';
import { destination, distance } from '../../server/src/geo/geodesy.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import { NO_SETTINGS } from '../../server/src/plan/settings.ts';
import { aboveGround, aboveSea, lonLat, metres } from '../../server/src/units/frames.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

const level = worldWith([LEVEL_GROUND], { obstacles: [] });
const east300 = destination(lonLat(-120.5, 47.5), 90, 300);

const ROUTE = `route:
  - take-off: home
  - point: a
    at: ${east300.lat}, ${east300.lon}
    altitude: 122 m AGL
    leg: { speed: 10 m/s through air }
  - land: home
`;
const CREW = 'crew: { pilot: { stands: take-off }, observers: [ { stands: beside pilot } ] }\n';

describe('slant range', () => {
  test('300 m away and 120 m above the watcher is 323.11 m', () => {
    // sqrt(300² + 120²) = 323.1099 m. The take-off place is written 2 m above the ground there.
    const { tools, legTo } = madePlan(`${SITE}${CREW}${ROUTE}`, level);
    const { ranges, lacking } = tools.ask(legSlantRanges, legTo('a'));
    expect(lacking).toEqual([]);
    expect(ranges).toHaveLength(2);
    for (const { range } of ranges) expect(range).toBeCloseTo(323.11, 2);
  });

  test('a watcher without a place is told beside the ranges of the others', () => {
    const { tools, legTo } = madePlan(
      `${SITE}crew: { pilot: { stands: take-off }, observers: [ { held: none } ] }\n${ROUTE}`,
      level,
    );
    const answer = tools.ask(legSlantRanges, legTo('a'));
    expect(answer.ranges).toHaveLength(1);
    expect(() => requireWhole(answer)).toThrow(/observer stands/);
  });

  test('of a leg that follows the ground is at least every sampled one and at most a piece more', () => {
    const grid = surfaceGrid(LATTICE, (lon, lat) => 400 + 40 * Math.sin(lon * 3000) * Math.cos(lat * 2500));
    const { tools, legTo } = madePlan(
      `${SITE}crew: { pilot: { stands: { lat: 47.503, lon: -120.49 } } }\nroute:\n  - take-off: home\n  - point: b\n    at: 47.506, -120.48\n    altitude: 60 m AGL\n    leg: { follows: 60 m AGL within 5 m }\n  - land: home\n`,
      worldWith([grid]),
    );
    const [answer] = tools.ask(legSlantRanges, legTo('b')).ranges;
    if (answer === undefined) throw new Error('no range');
    const { watcher } = answer;
    let most = 0;
    for (let i = 0; i <= 5000; i++) {
      const at = lonLat(-120.5 + (0.02 * i) / 5000, 47.5 + (0.006 * i) / 5000);
      const { terrain } = tools.world;
      const ground = 'missing' in terrain ? Number.NaN : (terrain.groundAt(at) ?? Number.NaN);
      for (const height of [55, 65]) {
        most = Math.max(most, Math.hypot(distance(watcher.at, at), ground + height - watcher.ground));
      }
    }
    expect(answer.range).toBeGreaterThan(most - 0.01);
    expect(answer.range).toBeLessThan(most + 5);
  });

  test('in an area reaches to its far rim at the end of its band that is farther in height', () => {
    const { tools, item } = madePlan(
      `${SITE}${CREW}route:\n  - take-off: home\n  - area: roof\n    inside: { circle: 50 m, around: { lat: ${east300.lat}, lon: ${east300.lon} } }\n    from: 5 m AGL\n    to: 102 m AGL\n    for: 4 min\n  - land: home\n`,
      level,
    );
    const [first] = tools.ask(areaSlantRanges, item('roof')).ranges;
    expect(first?.range).toBeCloseTo(Math.hypot(350, 100), 2);
  });
});

describe('speed over the ground', () => {
  const speedOf = (head: string, leg = '10 m/s through air') => {
    const { tools, legTo } = madePlan(`${SITE}${head}${ROUTE.replace('10 m/s through air', leg)}`, level);
    return tools.ask(groundSpeed, legTo('a'));
  };

  test('as written over ground, whatever the wind', () => {
    expect(speedOf('', '8 m/s over ground')).toEqual({ kind: 'as-written', fastest: 8, slowest: 8 });
  });

  test('through air with the wind from behind, and with the gust', () => {
    const speed = speedOf('weather: { wind: { from: 270 deg, speed: 4 m/s, gust: 7 m/s } }\n');
    expect(speed?.kind).toBe('from-wind');
    if (speed?.kind !== 'from-wind') return;
    expect(speed.fastest).toBeCloseTo(17, 3);
    expect(speed.slowest).toBeCloseTo(14, 3);
    expect(speed.fastestIn).toBe('gust');
  });

  test('cannot be held in a gust across that is stronger than the craft flies', () => {
    expect(speedOf('weather: { wind: { from: 0 deg, speed: 4 m/s, gust: 11 m/s } }\n')).toMatchObject({
      kind: 'cannot-hold',
      in: 'gust',
    });
  });

  test('through air without wind is not assessed, and without a speed there is nothing to judge', () => {
    expect(() => speedOf('')).toThrow(/wind/);
    const { tools, legTo } = madePlan(`${SITE}${ROUTE.replace(/ {4}leg:.*\n/, '')}`, level);
    expect(tools.ask(groundSpeed, legTo('a'))).toBeUndefined();
  });

  test('more headwind never makes it faster', () => {
    let before = Number.POSITIVE_INFINITY;
    for (let wind = 0; wind < 10; wind += 0.25) {
      const speed = speedOf(`weather: { wind: { from: 90 deg, speed: ${wind} m/s } }\n`);
      if (speed?.kind !== 'from-wind') throw new Error('not flown');
      expect(speed.fastest).toBeLessThan(before);
      before = speed.fastest;
    }
  });
});

describe('the range of sight', () => {
  const aircraft = (text: string) => readAircraft(`aircraft: 1\nname: bittern-2\n${text}`, 'bittern-2.aircraft.yaml');
  const rangeOf = (craft: string, weather: string, settings = NO_SETTINGS) => {
    const world = worldWith([LEVEL_GROUND], { aircraft: aircraft(craft) });
    const { tools, plan } = madePlan(`${SITE}${weather}${ROUTE}`, world, settings);
    return tools.ask(sightRange, plan);
  };

  test('is what the size allows, and less in haze', () => {
    const half = 'kind: multirotor\nsize: 0.5 m\n';
    const fine = rangeOf(half, 'weather: { visibility: 9 km }\n');
    expect(fine).toMatchObject({ by: 'aircraft size', lacking: [] });
    expect(fine.range).toBeCloseTo(183.5, 9);
    const haze = rangeOf(half, 'weather: { visibility: 500 m }\n');
    expect(haze).toMatchObject({ by: 'visibility', range: 150 });
  });

  test('without a reported visibility is what the size allows, and says that the visibility is lacking', () => {
    const answer = rangeOf('kind: fixed-wing\nsize: 1 m\n', '');
    expect(answer).toMatchObject({ range: 520, by: 'aircraft size' });
    expect(() => requireWhole(answer)).toThrow(/visibility/);
  });

  test("is the house's own where the house has tried it", () => {
    const settings = readSettings(
      'settings: 1\nlimits: { sight-range: { is: 250 m, because: tried on the north field } }\n',
      'waywarden.settings.yaml',
    );
    expect(rangeOf('kind: multirotor\nsize: 0.5 m\n', '', settings)).toMatchObject({ range: 250, by: 'house' });
  });

  test('of an aircraft without a size is not assessed', () => {
    expect(() => rangeOf('kind: multirotor\n', '')).toThrow(/size of the aircraft/);
  });

  test('without an aircraft file is not assessed', () => {
    const { tools, plan } = madePlan(`${SITE}${ROUTE}`, level);
    expect(() => tools.ask(sightRange, plan)).toThrow('the test has none');
  });
});

describe('obstacles', () => {
  const mast = (away: number, top: number, radius = 0) => ({
    name: 'mast',
    at: destination(destination(lonLat(-120.5, 47.5), 90, 150), 0, away),
    radius: metres(radius),
    top: { aboveGround: aboveGround(top) },
  });
  const passOf = (obstacle: ReturnType<typeof mast>) => {
    const made = madePlan(`${SITE}${ROUTE}`, worldWith([LEVEL_GROUND], { obstacles: [obstacle] }));
    return { ...made, leg: made.legTo('a'), passes: made.tools.ask(legObstacles, made.legTo('a')).passes };
  };

  test('are passed at the distance to the edge of their footprint', () => {
    const { passes } = passOf(mast(40, 100, 10));
    expect(passes[0]?.beside).toBeCloseTo(30, 2);
    expect(passes[0]?.along).toBeCloseTo(150, 1);
    expect(passOf(mast(300, 100)).passes).toEqual([]);
    expect(passOf(mast(3, 100, 10)).passes[0]?.beside).toBe(0);
  });

  test('are overflown with the lowest height within reach sideways', () => {
    const { leg, tools } = passOf(mast(40, 130, 10));
    expect(legOverTop(leg, mast(40, 130, 10), metres(20), tools)).toBeUndefined();
    const over = legOverTop(leg, mast(40, 130, 10), metres(35), tools);
    expect(over?.height).toBeCloseTo(-8, 6);
    expect(over?.top).toBe(530);
  });

  test('whose top has no ground under it are not assessed', () => {
    const { leg, tools } = passOf(mast(0, 100));
    const afar = { ...mast(0, 100), top: { aboveEllipsoid: 0 as never } };
    expect(() => legOverTop(leg, afar, metres(5), tools)).toThrow(/geoid grid/);
    expect(legOverTop(leg, { ...mast(0, 0), top: { aboveSea: aboveSea(500) } }, metres(5), tools)?.height).toBeCloseTo(
      22,
      6,
    );
  });

  test('in and beside a hand-flown area are told, with the height of its lower end over them', () => {
    const slope = surfaceGrid(LATTICE, (lon) => 400 + (lon + 120.5) * 20_000);
    const text = `${SITE}route:\n  - take-off: home\n  - area: roof\n    inside: { circle: 60 m, around: { lat: 47.5, lon: -120.49 } }\n    from: 30 m AGL\n    to: 50 m AGL\n    for: 4 min\n  - land: home\n`;
    const post = (east: number, top: number) => ({
      name: `post ${east}`,
      at: destination(lonLat(-120.49, 47.5), 90, east),
      radius: metres(1),
      top: { aboveGround: aboveGround(top) },
    });
    const { tools, item } = madePlan(
      text,
      worldWith([slope], { obstacles: [post(40, 20), post(100, 20), post(900, 20)] }),
    );
    const { passes } = tools.ask(areaObstacles, item('roof'));
    expect(passes.map(({ obstacle }) => obstacle.name)).toEqual(['post 40', 'post 100']);
    expect(passes[0]?.beside).toBe(0);
    expect(passes[1]?.beside).toBeCloseTo(39, 2);
    // Uphill in the area the ground rises with the post: 30 m above it are 10 m above the post.
    expect(areaOverTop(item('roof'), post(40, 20), metres(5), tools)?.height).toBeCloseTo(10, 6);
    expect(areaOverTop(item('roof'), post(40, 35), metres(5), tools)?.height).toBeCloseTo(-5, 6);
    expect(areaOverTop(item('roof'), post(100, 20), metres(5), tools)).toBeUndefined();
  });

  test('in the plan come before those in files, and unread ones are told', () => {
    const text = `${SITE}obstacles: { listed: [ { name: chimney, at: { lat: 47.5, lon: -120.499 }, top: 40 m AGL }, { name: pole, top: 9 m AGL } ] }\n${ROUTE}`;
    const { tools, legTo } = madePlan(text, worldWith([LEVEL_GROUND], { obstacles: [mast(40, 100)] }));
    const answer = tools.ask(legObstacles, legTo('a'));
    expect(answer.passes.map((pass) => pass.obstacle.name)).toEqual(['chimney', 'mast']);
    expect(() => requireWhole(answer)).toThrow(/position of obstacle pole/);
  });
});
