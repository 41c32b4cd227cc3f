import { describe, expect, test } from 'vitest';
import { requireWhole } from '../../server/src/facts/lacking.ts';
import { pathOfLeg } from '../../server/src/facts/leg-path.ts';
import { volumeZones } from '../../server/src/facts/volume-zones.ts';
import { zoneEntries } from '../../server/src/facts/zone-entries.ts';
import { flightZones } from '../../server/src/facts/zone-visits.ts';
import { boxAround } from '../../server/src/geo/box.ts';
import { aboveGround, aboveSea, aboveTakeOff, degrees, lonLat, metres } from '../../server/src/units/frames.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import type { Zone, ZoneEdge } from '../../server/src/world/zone.ts';
import { airspaceOf } from '../../server/src/world/zones-in-box.ts';
import { LATTICE, LEVEL_GROUND, madePlan, SITE, worldWith } from './made-plan.ts';

/** A zone between 120.495 and 120.485 west, across every leg from west to east here. */
const zone = (floor: ZoneEdge, ceiling: ZoneEdge, west = -120.495, east = -120.485): Zone => {
  const ring = [lonLat(west, 47.49), lonLat(east, 47.49), lonLat(east, 47.52), lonLat(west, 47.52)];
  const box = boxAround(ring);
  if (box === undefined) throw new Error('no box');
  return {
    id: 'z',
    name: 'Reed Bay',
    kind: 'restricted',
    shape: { kind: 'polygons', polygons: [[ring]] },
    box,
    floor,
    ceiling,
  };
};

const route = (start: string, end: string, leg = ''): string => `${SITE}route:
  - take-off: home
    climb-to: ${start}
  - point: east
    at: 47.5, -120.48
    altitude: ${end}${leg}
  - land: home
`;

const entriesOf = (zones: readonly Zone[], text: string, grid = LEVEL_GROUND) => {
  const made = madePlan(text, worldWith([grid], { airspace: airspaceOf(zones) }));
  const leg = made.legTo('east');
  return { ...made.tools.ask(zoneEntries, leg), path: made.tools.ask(pathOfLeg, leg), made };
};

const slope = surfaceGrid(LATTICE, (lon) => 400 + (lon + 120.5) * 5000);

describe('a leg and the zones it enters', () => {
  test('from edge to edge where the zone goes up from the surface', () => {
    const { entries, path } = entriesOf([zone('surface', 'unlimited')], route('60 m AGL', '60 m AGL'));
    expect(entries).toHaveLength(1);
    const [stretch] = entries[0]?.intervals ?? [];
    expect(path.at(stretch?.from ?? 0).lon).toBeCloseTo(-120.495, 6);
    expect(path.at(stretch?.to ?? 0).lon).toBeCloseTo(-120.485, 6);
    expect(entries[0]?.at.lon).toBeCloseTo(-120.495, 6);
  });

  test.each<[string, ZoneEdge, ZoneEdge, number]>([
    ['below its floor', { aboveGround: aboveGround(61) }, 'unlimited', 0],
    ['at its floor', { aboveGround: aboveGround(60) }, 'unlimited', 0],
    ['just above its floor', { aboveGround: aboveGround(59.9) }, 'unlimited', 1],
    ['at its ceiling', 'surface', { aboveGround: aboveGround(60) }, 1],
    ['just above its ceiling', 'surface', { aboveGround: aboveGround(59.9) }, 0],
    ['below its floor above the sea', { aboveSea: aboveSea(461) }, 'unlimited', 0],
    ['above its floor above the sea', { aboveSea: aboveSea(459) }, 'unlimited', 1],
    ['above its ceiling above the sea', 'surface', { aboveSea: aboveSea(459) }, 0],
    ['above its floor above take-off', { aboveTakeOff: aboveTakeOff(57) }, 'unlimited', 1],
    ['below its floor above take-off', { aboveTakeOff: aboveTakeOff(59) }, 'unlimited', 0],
    ['between floor and ceiling of two frames', { aboveSea: aboveSea(450) }, { aboveGround: aboveGround(70) }, 1],
  ])('%s', (_, floor, ceiling, count) => {
    expect(entriesOf([zone(floor, ceiling)], route('60 m AGL', '60 m AGL')).entries).toHaveLength(count);
  });

  test('only on the stretch of a climb that lies between floor and ceiling', () => {
    const { entries, path } = entriesOf(
      [zone({ aboveSea: aboveSea(450) }, { aboveSea: aboveSea(470) }, -120.52, -120.46)],
      route('420 m AMSL', '520 m AMSL'),
    );
    const [stretch, ...others] = entries[0]?.intervals ?? [];
    expect(others).toEqual([]);
    expect((stretch?.from ?? 0) / path.length).toBeCloseTo(0.3, 6);
    expect((stretch?.to ?? 0) / path.length).toBeCloseTo(0.5, 6);
  });

  test('on the stretch where falling or rising ground lets it in', () => {
    // Level flight at 500 m: above ground 100 m at the start, 0 m at the end. A zone from 80 m above ground up.
    const { entries, path } = entriesOf(
      [zone({ aboveGround: aboveGround(80) }, 'unlimited', -120.52, -120.46)],
      route('500 m AMSL', '500 m AMSL'),
      slope,
    );
    const [stretch] = entries[0]?.intervals ?? [];
    expect(stretch?.from).toBe(0);
    expect((stretch?.to ?? 0) / path.length).toBeCloseTo(0.2, 3);
  });

  test('when it follows the ground into a zone whose floor lies above the sea', () => {
    const follows = '\n    leg: { follows: 60 m AGL within 5 m }';
    const { entries, path } = entriesOf(
      [zone({ aboveSea: aboveSea(500) }, 'unlimited', -120.52, -120.46)],
      route('60 m AGL', '60 m AGL', follows),
      slope,
    );
    const [stretch] = entries[0]?.intervals ?? [];
    // Up to 65 m above ground that rises from 400 m to 500 m: 500 m are passed at ground 435 m.
    expect((stretch?.from ?? 0) / path.length).toBeCloseTo(0.35, 3);
    expect(stretch?.to).toBeCloseTo(path.length, 6);
  });

  test('names what it could not know: missing ground, uncovered airspace, a height above the ellipsoid', () => {
    const holed = surfaceGrid(LATTICE, (lon) => (Math.abs(lon + 120.49) < 0.001 ? Number.NaN : 400));
    const both = entriesOf(
      [zone({ aboveGround: aboveGround(20) }, 'unlimited'), zone('surface', 'unlimited')],
      route('60 m AGL', '60 m AGL'),
      holed,
    );
    expect(both.entries).toHaveLength(1);
    expect(() => requireWhole(both)).toThrow(/no data under a part of leg home to east inside zone Reed Bay/);

    const elsewhere = [{ west: degrees(0), east: degrees(1), south: degrees(0), north: degrees(1) }];
    const made = madePlan(
      route('60 m AGL', '60 m AGL'),
      worldWith([LEVEL_GROUND], { airspace: airspaceOf([zone('surface', 'unlimited')], elsewhere) }),
    );
    const entries = made.tools.ask(zoneEntries, made.legTo('east'));
    expect(entries.entries).toHaveLength(1);
    expect(() => requireWhole(entries)).toThrow(/do not cover leg home to east/);
  });

  test('are not assessed without airspace', () => {
    const made = madePlan(route('60 m AGL', '60 m AGL'), worldWith([LEVEL_GROUND]));
    expect(() => made.tools.ask(zoneEntries, made.legTo('east'))).toThrow('the test has none');
  });
});

describe('a zone between flight levels', () => {
  // FL 15 is 1,500 ft, 457.2 m, while altimeters are set to 1013.25 hPa. The leg flies level at 460 m.
  const FL15 = { pressureAltitude: metres(457.2) };
  const FL16 = { pressureAltitude: metres(487.68) };
  const flown = (floor: ZoneEdge, ceiling: ZoneEdge, qnh: string, height = '60 m AGL') => {
    const text = `${qnh === '' ? '' : `weather: { qnh: ${qnh} }\n`}${route(height, height)}`;
    return entriesOf([zone(floor, ceiling)], text);
  };

  test.each<[string, ZoneEdge, ZoneEdge, string, number]>([
    ['above its floor in standard pressure', FL15, 'unlimited', '1013.25 hPa', 1],
    ['below its floor, which higher pressure lifts by some 8 m per hPa', FL15, 'unlimited', '1014 hPa', 0],
    ['above its floor, which lower pressure lets down', FL16, 'unlimited', '1000 hPa', 1],
    ['above its ceiling in standard pressure', 'surface', FL15, '1013.25 hPa', 0],
    ['below its ceiling in higher pressure', 'surface', FL15, '1014 hPa', 1],
    ['the same in inches of mercury', FL15, 'unlimited', '29.92 inHg', 1],
  ])('%s', (_, floor, ceiling, qnh, count) => {
    const { entries, lacking } = flown(floor, ceiling, qnh);
    expect(lacking).toEqual([]);
    expect(entries).toHaveLength(count);
  });

  test('without the pressure of the day it is not assessed inside the band only', () => {
    const inBand = flown(FL15, 'unlimited', '');
    expect(inBand.entries).toEqual([]);
    expect(inBand.lacking.map(({ missing }) => missing)).toEqual([
      expect.stringMatching(
        /^the limits of zone Reed Bay are flight levels, .* depends on the QNH: the plan gives no pressure/,
      ),
    ]);
    // At 1080 hPa FL 15 lies about 1,000 m above the sea, at 940 hPa some 170 m below it.
    const above = flown(FL15, 'unlimited', '', '700 m AGL');
    expect(above).toMatchObject({ lacking: [], entries: [{}] });
    const below = flown({ pressureAltitude: metres(2000) }, 'unlimited', '');
    expect(below).toMatchObject({ lacking: [], entries: [] });
    const ceiling = flown('surface', { pressureAltitude: metres(5943.6) }, '');
    expect(ceiling).toMatchObject({ lacking: [], entries: [{}] });
  });

  test('the same holds for an area', () => {
    const text = (qnh: string): string => `${SITE}${qnh}route:
  - take-off: home
  - area: roof
    inside: { circle: 50 m, around: { lat: 47.5, lon: -120.49 } }
    from: 5 m AGL
    to: 60 m AGL
    for: 4 min
  - land: home
`;
    const askedWith = (qnh: string) => {
      const { tools, item } = madePlan(
        text(qnh),
        worldWith([LEVEL_GROUND], { airspace: airspaceOf([zone(FL15, 'unlimited')]) }),
      );
      return tools.ask(volumeZones, item('roof'));
    };
    expect(askedWith('weather: { qnh: 1013.25 hPa }\n')).toMatchObject({ entries: [{}], lacking: [] });
    expect(askedWith('weather: { qnh: 1020 hPa }\n')).toMatchObject({ entries: [], lacking: [] });
    expect(askedWith('')).toMatchObject({ entries: [], lacking: [{}] });
  });
});

describe('layers of one zone', () => {
  test('are one matter, with a visit for each; zones that do not know of each other are two', () => {
    const layerOf = {};
    const low = zone('surface', { aboveGround: aboveGround(50) });
    const high = zone({ aboveGround: aboveGround(50) }, 'unlimited');
    const zonesOf = (zones: readonly Zone[]) => {
      const made = madePlan(
        `${SITE}route:
  - take-off: home
  - point: low
    at: 47.5, -120.48
    altitude: 40 m AGL
  - point: high
    at: 47.5, -120.5
    altitude: 80 m AGL
  - land: home
`,
        worldWith([LEVEL_GROUND], { airspace: airspaceOf(zones) }),
      );
      const [flight] = made.plan.flights;
      if (flight === undefined) throw new Error('no flight');
      return made.tools.ask(flightZones, flight).zones.map(({ visits }) => visits.length);
    };
    expect(zonesOf([low, high])).toHaveLength(2);
    const joined = zonesOf([
      { ...low, layerOf },
      { ...high, layerOf },
    ]);
    expect(joined).toHaveLength(1);
    expect(joined[0]).toBeGreaterThan(1);
  });
});

describe('the zones entered at an item', () => {
  const area = (from: string, to: string): string => `${SITE}route:
  - take-off: home
  - area: roof
    inside: { circle: 50 m, around: { lat: 47.5, lon: -120.49 } }
    from: ${from}
    to: ${to}
    for: 4 min
  - land: home
`;
  const zonesOf = (zones: readonly Zone[], text: string, id: string, grid = LEVEL_GROUND) => {
    const { tools, item } = madePlan(text, worldWith([grid], { airspace: airspaceOf(zones) }));
    return tools.ask(volumeZones, item(id));
  };

  test.each<[string, ZoneEdge, ZoneEdge, number]>([
    ['from the surface up', 'surface', 'unlimited', 1],
    ['floor above the band', { aboveGround: aboveGround(40) }, 'unlimited', 0],
    ['floor within the band', { aboveGround: aboveGround(39) }, 'unlimited', 1],
    ['ceiling below the band', 'surface', { aboveGround: aboveGround(4) }, 0],
    ['ceiling at the foot of the band', 'surface', { aboveGround: aboveGround(5) }, 1],
    ['floor above the sea within the band', { aboveSea: aboveSea(430) }, 'unlimited', 1],
    ['floor above the sea over the band', { aboveSea: aboveSea(441) }, 'unlimited', 0],
  ])('an area: %s', (_, floor, ceiling, count) => {
    expect(zonesOf([zone(floor, ceiling)], area('5 m AGL', '40 m AGL'), 'roof').entries).toHaveLength(count);
  });

  test('an area beside the zone is not in it', () => {
    expect(
      zonesOf([zone('surface', 'unlimited', -120.48, -120.47)], area('5 m AGL', '40 m AGL'), 'roof').entries,
    ).toEqual([]);
  });

  test('an area on a slope is in a zone that only its high ground reaches', () => {
    // Ground under the 50 m circle runs from some 447 m to 453 m: 40 m above its top is 493 m.
    const band = zone({ aboveSea: aboveSea(491.5) }, 'unlimited');
    expect(zonesOf([band], area('5 m AGL', '40 m AGL'), 'roof', slope).entries).toHaveLength(1);
  });

  test('a take-off passes through a low zone on its way up', () => {
    const low = zone('surface', { aboveGround: aboveGround(30) }, -120.501, -120.499);
    const text = route('60 m AGL', '60 m AGL');
    const { tools, item, legTo } = madePlan(text, worldWith([LEVEL_GROUND], { airspace: airspaceOf([low]) }));
    expect(tools.ask(zoneEntries, legTo('east')).entries).toEqual([]);
    expect(tools.ask(volumeZones, item('home')).entries).toHaveLength(1);
    expect(tools.ask(volumeZones, item('east')).entries).toEqual([]);
  });
});

describe('zones found by box', () => {
  const at = (west: number, east: number): Zone => zone('surface', 'unlimited', west, east);
  const boxOf = (west: number, east: number) => ({
    west: degrees(west),
    east: degrees(east),
    south: degrees(47.4),
    north: degrees(47.6),
  });

  test('come in the order of their files, each once, also across the 180° meridian', () => {
    const zones = [at(10, 10.4), at(179.9, 180), at(10.1, 10.2), at(-180, -179.9), at(-60, 60)];
    const airspace = airspaceOf(zones);
    expect(airspace.zonesIn(boxOf(10.05, 10.15))).toEqual([zones[0], zones[2], zones[4]]);
    expect(airspace.zonesIn(boxOf(179.95, -179.95))).toEqual([zones[1], zones[3]]);
    expect(airspace.zonesIn(boxOf(100, 101))).toEqual([]);
    expect(airspace.zonesIn(boxOf(-180, 180))).toEqual(zones);
  });

  test('agree with looking at every zone', () => {
    const zones = Array.from({ length: 200 }, (_, i) => at(-180 + ((i * 37.3) % 359), -180 + ((i * 37.3) % 359) + 0.3));
    const airspace = airspaceOf(zones);
    for (let west = -179.931; west < 179; west += 1.7) {
      const box = boxOf(west, west + 0.6);
      const byHand = zones.filter((one) => one.box.west <= box.east && one.box.east >= box.west);
      expect(airspace.zonesIn(box)).toEqual(byHand);
    }
  });

  test('cover what one of the covered boxes holds whole', () => {
    const airspace = airspaceOf([], [boxOf(170, -170), boxOf(5, 6)]);
    expect(airspace.covers(boxOf(179, -179))).toBe(true);
    expect(airspace.covers(boxOf(5.2, 5.9))).toBe(true);
    expect(airspace.covers(boxOf(5.5, 6.5))).toBe(false);
    expect(airspaceOf([]).covers(boxOf(5, 6))).toBe(true);
  });
});
