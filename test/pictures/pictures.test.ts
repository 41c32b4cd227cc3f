import { describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { legHeight } from '../../server/src/facts/leg-height.ts';
import { distance } from '../../server/src/geo/geodesy.ts';
import { breachesOf } from '../../server/src/pictures/breaches.ts';
import { lineOfFlight, lineOfLeg } from '../../server/src/pictures/flight-line.ts';
import { flightMap } from '../../server/src/pictures/flight-map.ts';
import { pictureOfFlight, pictureOfLeg } from '../../server/src/pictures/flight-pictures.ts';
import { roundStep } from '../../server/src/pictures/height-profile.ts';
import { frameAround, liesInside } from '../../server/src/pictures/map-frame.ts';
import { mapScene } from '../../server/src/pictures/map-scene.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from '../facts/made-plan.ts';
import { NASTY } from '../support/nasty-strings.ts';

/** A sharp hill halfway between the two points of the route. */
const HILL = surfaceGrid(
  LATTICE,
  (lon, lat) => 400 + 80 * Math.max(0, 1 - Math.hypot(lon + 120.49, lat - 47.5) / 0.002),
  3,
);

const ROUTE = `route:
  - take-off: home
    climb-to: 60 m AGL
  - point: far
    at: 47.5, -120.48
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - land: home
`;

const isWellFormed = async (svg: string): Promise<string> => {
  const { valid, rawOutput } = await validateXML({
    xml: [{ fileName: 'a.svg', contents: svg }],
    normalization: 'format',
  });
  return valid ? 'well-formed' : rawOutput;
};

const withoutFigure = (figure: string): string => /<svg[\s\S]*<\/svg>/.exec(figure)?.[0] ?? '';

describe('the line of a flight', () => {
  const { tools, plan, legTo } = madePlan(`${SITE}${ROUTE}`, worldWith([HILL]));
  const leg = legTo('far');

  test.each([4, 16, 60, 240])('keeps the least height above the ground when it is thinned to %i columns', (columns) => {
    const line = lineOfLeg(leg, columns, tools);
    const { least } = tools.ask(legHeight, leg);
    const summit = Math.max(...line.ground.flat().map(({ altitude }) => altitude));
    const start = line.craft[0]?.[0]?.altitude ?? Number.NaN;
    // The flight is level over level ends, so that it is nearest to the ground over the summit.
    expect(start - summit).toBeCloseTo(least.value, 3);
    expect(line.ground.flat().length).toBeLessThanOrEqual(columns * 4 + 8);
  });

  test('runs forward only, from the take-off to the landing, and stands up at both', () => {
    const [flight] = plan.flights;
    if (flight === undefined) throw new Error('no flight');
    const line = lineOfFlight(flight, 240, tools);
    const along = line.ground.flat().map((point) => point.along);
    expect(along).toEqual([...along].sort((one, other) => one - other));
    expect(line.places.map(({ item }) => item.id.value)).toEqual(['home', 'far', 'home']);
    expect(line.uprights.map(({ kind, along: at }) => [kind, at])).toEqual([
      ['column', 0],
      ['column', line.length],
    ]);
    expect(line.legs.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(line.length, 6);
  });

  test('says what it lacks and draws the rest: without terrain a height above the sea is still a line', () => {
    const made = madePlan(`${SITE}${ROUTE.replaceAll('60 m AGL', '480 m AMSL')}`, worldWith([]));
    const line = lineOfLeg(made.legTo('far'), 60, made.tools);
    expect(line.ground).toEqual([]);
    expect(line.craft.flat().map(({ altitude }) => altitude)).toEqual([480, 480]);
    expect(line.lacking).toEqual(['the test has none']);
  });
});

describe('pictures', () => {
  const { tools, plan, legTo } = madePlan(`${SITE}${ROUTE}`, worldWith([HILL]));
  const [flight] = plan.flights;
  if (flight === undefined) throw new Error('no flight');
  const finding = {
    rule: 'leg-meets-ground',
    level: 'stop',
    subject: 'leg home to far',
    message: 'leg home to far meets the ground',
    at: plan.titleSpan,
    fingerprint: '0',
    count: 1,
    sources: [],
    place: {
      at: lonLat(-120.49, 47.5),
      alongM: distance(lonLat(-120.5, 47.5), lonLat(-120.49, 47.5)),
      altitudeAmslM: 460,
    },
    intervals: [{ fromAlongM: 700, toAlongM: 800 }],
  } as const;
  const found = breachesOf({ findings: [finding], accepted: [], lifted: [] });

  test('of a leg and a flight are well-formed, have a name and the facts in words, and each line has its word', async () => {
    for (const svg of [
      pictureOfLeg(legTo('far'), found, tools).markup,
      withoutFigure(pictureOfFlight(flight, found, tools).markup),
    ]) {
      expect(await isWellFormed(svg)).toBe('well-formed');
      expect(svg).toMatch(/role="img" aria-labelledby="(\S+) (\S+)"/);
      expect(svg).toContain('>ground</text>');
      expect(svg).toContain('>flight</text>');
      expect(svg).toContain('>limit 121.92 m (400 ft) above the ground</text>');
      expect(svg).toContain('m above take-off');
      expect(svg).toContain('times as steep as they are');
      expect(svg).toContain('>stop 1</text>');
      expect(svg).toContain('class="breach-line"');
      expect(svg).toMatch(/<desc[^>]*>[^<]*stop 1 at 753 m: leg home to far meets the ground/);
      expect(svg).not.toMatch(/NaN|Infinity|undefined|-0[ "]/);
    }
  });

  test('a finding that lies on another leg is not on this one', () => {
    const svg = pictureOfLeg(
      legTo('home'),
      breachesOf({
        findings: [{ ...finding, place: { at: lonLat(-120.4, 47.51), alongM: 10 } }],
        accepted: [],
        lifted: [],
      }),
      tools,
    ).markup;
    expect(svg).not.toContain('class="breach');
  });

  test('what is accepted or lifted says so', () => {
    const accepted = breachesOf({
      findings: [],
      accepted: [],
      lifted: [{ finding, by: { kind: 'waiver', name: 'w', span: plan.titleSpan } }],
    });
    expect(pictureOfLeg(legTo('far'), accepted, tools).markup).toContain('>stop 1 (lifted)</text>');
  });

  test.each([
    ['a leg without length', 'at: 47.5, -120.5'],
    ['a position that cannot be read', 'at: here'],
    ['the other side of the world', 'at: -47.5, 59.5'],
  ])('%s gives a picture or says why there is none', async (_, at) => {
    const made = madePlan(`${SITE}${ROUTE.replace('at: 47.5, -120.48', at)}`, worldWith([LEVEL_GROUND]));
    const [other] = made.plan.flights;
    if (other === undefined) throw new Error('no flight');
    const figure = pictureOfFlight(other, [], made.tools).markup;
    expect(await isWellFormed(withoutFigure(figure))).toBe('well-formed');
    expect(figure).not.toMatch(/NaN|Infinity|undefined/);
  });

  test('names of any kind leave the picture whole', async () => {
    for (const name of Object.values(NASTY)) {
      const quoted = JSON.stringify(name.slice(0, 200)).replace(/[\ud800-\udfff]/g, '?');
      const made = madePlan(`${SITE}${ROUTE.replace('point: far', `point: ${quoted}`)}`, worldWith([LEVEL_GROUND]));
      const [other] = made.plan.flights;
      if (other === undefined) throw new Error('no flight');
      expect(await isWellFormed(withoutFigure(pictureOfFlight(other, [], made.tools).markup))).toBe('well-formed');
    }
  });
});

describe('the map', () => {
  test('lays north up and east to the right, at one scale in every direction', () => {
    const places = [lonLat(-120.5, 47.5), lonLat(-120.48, 47.51)];
    const { spot, scale } = frameAround(places, 760, 560);
    const [one, other] = places.map(spot);
    if (one === undefined || other === undefined) throw new Error('no spots');
    expect(other.x).toBeGreaterThan(one.x);
    expect(other.y).toBeLessThan(one.y);
    const [from, to] = places;
    if (from === undefined || to === undefined) throw new Error('no places');
    // The projection keeps distances from its middle; between two places near it they are off by less than 1e-6.
    expect(Math.hypot(other.x - one.x, other.y - one.y) / scale).toBeCloseTo(distance(from, to), 2);
  });

  test('lays the 180th meridian out as any other', () => {
    const here = frameAround([lonLat(-120.51, 47.5), lonLat(-120.49, 47.5)], 760, 560);
    const there = frameAround([lonLat(179.99, 47.5), lonLat(-179.99, 47.5)], 760, 560);
    expect(there.scale).toBeCloseTo(here.scale, 9);
    expect(there.spot(lonLat(-179.99, 47.5)).x).toBeCloseTo(here.spot(lonLat(-120.49, 47.5)).x, 6);
  });

  test('a place in a hole is not inside', () => {
    const square = (size: number) => [
      { x: -size, y: -size },
      { x: size, y: -size },
      { x: size, y: size },
      { x: -size, y: size },
    ];
    expect(liesInside([square(3), square(1)], { x: 0, y: 0 })).toBe(false);
    expect(liesInside([square(3), square(1)], { x: 2, y: 0 })).toBe(true);
  });

  test('has a scale in metres and feet, true north, the items by number and name, and the crew', async () => {
    const { tools } = madePlan(
      `${SITE}crew: { pilot: { stands: take-off } }\nlost-link: { climb-to: 80 m above take-off, then: fly back and land }\n${ROUTE}`,
      worldWith([LEVEL_GROUND]),
    );
    const scene = mapScene(tools);
    const map = flightMap(scene, [], {
      id: 'm',
      title: 'Map',
      words: 'w',
      width: 760,
      height: 560,
      numberOf: () => '7',
    });
    const svg = map?.markup ?? '';
    expect(await isWellFormed(svg)).toBe('well-formed');
    expect(svg).toMatch(/>\d+ (m|km)<\/text>/);
    expect(svg).toMatch(/>\d+ ft<\/text>/);
    for (const text of ['true north', '7 far', '7 home', 'pilot']) expect(svg).toContain(`>${text}</text>`);
    expect(scene.waysHome).toHaveLength(1);
    expect(scene.wayHomeSaid).toBe('way after a lost link, at 80 m above take-off or higher');
    expect(scene.lacking).toContain('the test has none');
  });

  test('the bar of the scale is as long as it says', () => {
    const { tools } = madePlan(`${SITE}${ROUTE}`, worldWith([LEVEL_GROUND]));
    const scene = mapScene(tools);
    const svg =
      flightMap(scene, [], { id: 'm', title: 'Map', words: 'w', width: 760, height: 560, numberOf: () => '' })
        ?.markup ?? '';
    const bar = /v8m0 -4h([\d.]+)m0 -4v8"[^>]*\/><text[^>]*>(\d+) m</.exec(svg);
    const { scale } = frameAround(
      scene.items.map(({ at }) => at),
      760,
      560,
    );
    expect(Number(bar?.[1]) / scale).toBeCloseTo(Number(bar?.[2]), 0);
  });

  test('without any position there is no map', () => {
    const { tools } = madePlan('route: []\n', worldWith([]));
    expect(
      flightMap(mapScene(tools), [], {
        id: 'm',
        title: 'Map',
        words: 'w',
        width: 760,
        height: 560,
        numberOf: () => '',
      }),
    ).toBeUndefined();
  });
});

test.each([
  [7, 5, 2],
  [100, 5, 20],
  [0.9, 5, 0.2],
  [1234, 3, 500],
])('over %d, with at most %d steps, a step is %d', (span, most, step) => {
  expect(roundStep(span, most)).toBeCloseTo(step, 9);
});
