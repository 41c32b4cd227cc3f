import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { insideShape } from '../../server/src/geo/shape.ts';
import { readMapping } from '../../server/src/plan/read-mapping.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import type { ZonesFile } from '../../server/src/world/zones-file.ts';
import { mappingFaults, readMappedZones } from '../../server/src/world/zones-mapped.ts';
import { readProject } from '../support/project.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';

const SQUARE = [
  [10, 47],
  [10.1, 47],
  [10.1, 47.1],
  [10, 47.1],
  [10, 47],
];
const BOX = { west: 10, south: 47, east: 10.1, north: 47.1 };

const MAPPING = `mapping: 1
of: a layout made for this test
id: code
name: title
text: [note, more]
kind: { property: sort, is: { CZ: controlled, RZ: restricted, GZ: geographical, FIR: none } }
class: { property: letter, absent: none }
restriction: { property: asks, is: { X: prohibited, P: authorisation } }
floor:
  property: low
  is: { S: surface }
  unit: { property: unit, is: { F: ft, M: m, L: FL } }
  datum: { property: from, is: { G: AGL, S: AMSL, P: standard pressure, E: above ellipsoid } }
ceiling: { property: high, is: { U: unlimited }, absent: unlimited, unit: ft, datum: AMSL }
radius: { property: r, unit: NM }
`;

const FEATURE = { code: 'Z 1', title: 'quarry', sort: 'RZ', low: 'S', high: 3000 };
const feature = (properties: object = {}, geometry: object = { type: 'Polygon', coordinates: [SQUARE] }): object => ({
  type: 'Feature',
  properties: { ...FEATURE, ...properties },
  geometry,
});

const mapped = (features: readonly unknown[], more = '', members: object = {}): ZonesFile => {
  const mapping = readMapping(MAPPING + more, 'test.mapping.yaml');
  expect(mapping.slips).toEqual([]);
  expect(mappingFaults(mapping)).toEqual([]);
  return readMappedZones(JSON.stringify({ type: 'FeatureCollection', ...members, features }), mapping);
};

describe('a feature in the layout of an authority', () => {
  test('becomes a zone by the properties that the mapping names', () => {
    const file = mapped([feature({ sort: 'CZ', letter: 'D', note: 'Call  first.', more: 'Ch. 5' })], '', {
      edition: '7',
    });
    expect(file).toMatchObject({ problems: [], uncovered: [], edition: '7' });
    expect(file.zones).toMatchObject([
      {
        id: 'Z 1',
        name: 'quarry',
        kind: 'controlled',
        airspaceClass: 'D',
        box: BOX,
        floor: 'surface',
        ceiling: { aboveSea: expect.closeTo(914.4, 9) },
        text: 'Call  first. / Ch. 5',
      },
    ]);
    expect(file.zones[0]?.active).toBeUndefined();
  });

  test.each([
    [{ low: 500, unit: 'F', from: 'G' }, { aboveGround: 152.4 }],
    [{ low: '0', unit: 'M', from: 'G' }, 'surface'],
    [{ low: 0, unit: 'M', from: 'S' }, { aboveSea: 0 }],
    [{ low: '65', unit: 'L', from: 'P' }, { pressureAltitude: 1981.2 }],
    [{ low: 6500, unit: 'F', from: 'P' }, { pressureAltitude: 1981.2 }],
    [{ low: 400.5, unit: 'M', from: 'E' }, { aboveEllipsoid: 400.5 }],
  ])('whose floor is %j', (edge, floor) => {
    const { zones, problems } = mapped([feature({ ...edge, high: null })]);
    expect(problems).toEqual([]);
    expect(zones).toMatchObject([{ floor, ceiling: 'unlimited' }]);
  });

  test('is a circle where it is a point with a radius', () => {
    const { zones } = mapped([feature({ r: '3' }, { type: 'Point', coordinates: [10, 47] })]);
    expect(zones[0]?.shape).toEqual({ kind: 'circle', centre: { lon: 10, lat: 47 }, radius: 5556 });
  });

  test('is left out, without a word, where the mapping says that it is no zone', () => {
    const counts = 'counts: [{ property: state, is: [in force, amended] }, { property: test, is-not: "yes" }]\n';
    const file = mapped(
      [
        feature({ sort: 'FIR', low: 'nonsense', state: 'in force' }),
        feature({ state: 'withdrawn', sort: 'unheard of' }),
        feature({ state: 'amended', test: 'yes' }),
        feature({ state: 'amended', code: 'counts' }),
      ],
      counts,
    );
    expect(file.zones.map(({ id }) => id)).toEqual(['counts']);
    expect(file).toMatchObject({ problems: [], uncovered: [] });
  });

  test('counts with others of its designation as one zone of several layers', () => {
    const { zones } = mapped([
      feature(),
      feature({ low: 3000, unit: 'F', from: 'S', high: 4000 }),
      feature({ note: 'other words' }),
      feature({ code: 'Z 2' }),
    ]);
    expect(zones[0]?.layerOf).toBeDefined();
    expect(zones.map(({ layerOf }) => layerOf === zones[0]?.layerOf)).toEqual([true, true, false, false]);
    expect(zones[3]?.layerOf).toBeUndefined();
  });

  test('takes the covered ground from the mapping, and that shows swapped axes', () => {
    const swapped = SQUARE.map(([lon, lat]) => [lat, lon]);
    const file = mapped([feature({}, { type: 'Polygon', coordinates: [swapped] })], 'covers: [9, 46, 11, 48]\n');
    expect(file.covers).toEqual([{ west: 9, south: 46, east: 11, north: 48 }]);
    expect(file.zones).toEqual([]);
    expect(file.problems[0]).toContain('swapped');
    const two = mapped([feature()], 'covers: [[9, 46, 11, 48], [170, -10, -170, 10]]\n');
    expect(two.covers).toHaveLength(2);
  });
});

describe('what the mapping does not name is told and leaves a gap', () => {
  test.each<[string, object, string]>([
    ['a kind', { sort: 'XZ' }, 'has "XZ" as its "sort", which the mapping does not name'],
    ['no kind', { sort: null }, 'has no "sort", which is its kind'],
    ['a class', { sort: 'CZ', letter: 'H' }, 'has "H" as its "letter", which is none of A, B'],
    ['controlled without class', { sort: 'CZ' }, 'controlled airspace without a class'],
    ['a restriction', { sort: 'GZ', asks: '?' }, 'has "?" as its "asks"'],
    ['a unit', { low: 5, unit: 'furlong', from: 'G' }, 'has "furlong" as its "unit"'],
    ['a datum', { low: 5, unit: 'M', from: 'T' }, 'has "T" as its "from"'],
    ['no datum', { low: 5, unit: 'M' }, 'whose datum its mapping does not give'],
    ['no floor', { low: undefined }, 'has no "low", which is its floor'],
    ['a ceiling that is no number', { high: '3,000' }, 'has "3,000" as its "high", which is no number'],
    ['a floor that is a list', { low: [1] }, 'no single value'],
    ['upside down', { low: 3500, unit: 'F', from: 'S' }, 'floor at or above its ceiling'],
  ])('%s', (_, properties, reason) => {
    const file = mapped([feature(properties), feature({ code: 'sound' })]);
    expect(file.zones.map(({ id }) => id)).toEqual(['sound']);
    expect(file.problems).toHaveLength(1);
    expect(file.problems[0]).toMatch(/^has a fault: feature 1 \("quarry"\) (?:has|is) /);
    expect(file.problems[0]).toContain(reason);
    expect(file.uncovered).toEqual([BOX]);
  });

  test('a file in which nothing counts is told', () => {
    expect(mapped([feature({ sort: 'FIR' })]).problems).toEqual([
      'holds no feature that counts as a zone by its mapping',
    ]);
    expect(mapped([]).problems).toEqual(['holds no feature that counts as a zone by its mapping']);
    expect(readMappedZones('PK', readMapping(MAPPING, 'm')).problems).toEqual(['is not JSON']);
  });
});

describe('times of activity through a mapping', () => {
  const ACTIVE = `active:
  property: hours
  is:
    H24: always
    HJ: [{ days: ANY, from: sunrise, until: sunset }]
    TWR: { days: [MON, FRI], from: "07:00", until: "19:00", clock: local }
    TEL: { untold: as told by telephone }
  from: first
  until: last
`;
  const activeOf = (properties: object) => mapped([feature(properties)], ACTIVE).zones[0]?.active;

  test.each([
    ['nothing said', {}, undefined],
    ['always', { hours: 'H24' }, undefined],
    ['untold', { hours: 'TEL' }, [{ untold: 'as told by telephone' }]],
    ['a value that is not in the table', { hours: 'HX' }, [{ untold: 'at times that its file gives as "HX"' }]],
    ['an instant', { first: '2027-01-01T06:00Z' }, [{ from: Date.UTC(2027, 0, 1, 6) }]],
    [
      'days, wherever their midnight is',
      { first: '2027-01-01', last: '2027-01-31' },
      [{ from: Date.UTC(2026, 11, 31, 10), until: Date.UTC(2027, 1, 1, 12) }],
    ],
    [
      'hours inside a validity',
      { hours: 'TWR', last: '2027-01-01T06:00Z' },
      [
        {
          until: Date.UTC(2027, 0, 1, 6),
          weekly: [
            {
              days: ['MON', 'FRI'],
              from: { clock: 25_200, offsetMinutes: 'local' },
              until: { clock: 68_400, offsetMinutes: 'local' },
            },
          ],
        },
      ],
    ],
  ])('%s', (_, properties, active) => {
    expect(activeOf(properties)).toEqual(active);
  });

  test('a time of the mapping that cannot be read is the fault of the mapping', () => {
    const mapping = readMapping(
      `${MAPPING}active: { property: hours, is: { HJ: [{ days: ANY, from: dawn }] } }\n`,
      'm',
    );
    expect(mappingFaults(mapping)).toEqual([
      'has for "HJ" an entry that has a time of day that could not be read; write it as in "07:30", or as sunrise, sunset, morning twilight or evening twilight',
    ]);
  });
});

describe('a mapping that cannot be read in full', () => {
  test.each([
    ['an unknown word', MAPPING.replace('RZ: restricted', 'RZ: forbidden'), 'word-unknown'],
    ['an unknown fixed word', MAPPING.replace(/kind: .*/, 'kind: forbidden'), 'word-unknown'],
    ['an unknown key', `${MAPPING}colour: red\n`, 'key-unknown'],
    ['no kind', MAPPING.replace(/kind: .*\n/, ''), 'key-missing'],
    ['another format', MAPPING.replace('mapping: 1', 'mapping: 2'), 'format-unknown'],
    ['a box of three numbers', `${MAPPING}covers: [1, 2, 3]\n`, 'value-of-wrong-kind'],
    ['a floor that is a word', MAPPING.replace(/floor:\n(?: {2}.*\n)+/, 'floor: low\n'), 'value-of-wrong-kind'],
    ['broken YAML', MAPPING.replace('[note, more]', '[note, more'), 'yaml-broken'],
    ['no YAML mapping', 'hello', 'value-of-wrong-kind'],
    ['nothing', '', 'key-missing'],
  ])('%s', (_, text, kind) => {
    expect(readMapping(text, 'test.mapping.yaml').slips.map((slip) => slip.kind)).toContain(kind);
  });
});

describe('cells of granted heights, and what bars take-offs and landings only', () => {
  const KINDS = MAPPING.replace('FIR: none', 'GC: cell, FIR: none');
  const read = (features: readonly unknown[], more: string): ZonesFile => {
    const mapping = readMapping(KINDS + more, 'test.mapping.yaml');
    expect(mapping.slips).toEqual([]);
    return readMappedZones(JSON.stringify({ type: 'FeatureCollection', features }), mapping);
  };

  test('a cell is there at every height, and grants its ceiling; zero grants none', () => {
    const cells = [feature({ sort: 'GC', high: 300 }), feature({ sort: 'GC', code: 'Z 2', high: 0 })];
    const file = read(cells, 'grid: lakes-grid\n');
    expect(file.problems).toEqual([]);
    expect(file.zones).toMatchObject([
      {
        kind: 'cell',
        floor: 'surface',
        ceiling: 'unlimited',
        grants: { grid: 'lakes-grid', upTo: { aboveSea: 91.44 } },
      },
      { kind: 'cell', grants: { grid: 'lakes-grid', upTo: { aboveSea: 0 } } },
    ]);
  });

  test('a property may name the grid, and a cell needs no floor', () => {
    const file = read([feature({ sort: 'GC', low: undefined, list: 'north' })], 'grid: { property: list }\n');
    expect(file).toMatchObject({ problems: [], zones: [{ grants: { grid: 'north' } }] });
  });

  test.each([
    ['without a grid in the mapping', {}, '', 'is a cell of a grid that its mapping does not name ("grid")'],
    ['without the property of its grid', {}, 'grid: { property: list }\n', 'is a cell of a grid'],
    ['without a height', { high: 'U' }, 'grid: g\n', 'whose ceiling is not above ground or sea'],
  ])('a cell %s is told, and its ground is open', (_, properties, more, problem) => {
    const file = read([feature({ sort: 'GC', ...properties })], more);
    expect(file.problems.join()).toContain(problem);
    expect(file).toMatchObject({ zones: [], uncovered: [BOX] });
  });

  test('a zone may bar take-offs and landings only', () => {
    const table = 'bars: { property: scope, is: { TL: take-off and landing, ALL: flight }, absent: flight }\n';
    const file = read(
      [feature({ scope: 'TL' }), feature({ scope: 'ALL', code: 'Z 2' }), feature({ code: 'Z 3' })],
      table,
    );
    expect(file.problems).toEqual([]);
    expect(file.zones.map(({ bars }) => bars)).toEqual(['take-off and landing', undefined, undefined]);
  });

  test('a value that the mapping does not name is told, and its ground is open', () => {
    const file = read([feature({ scope: 'HALF' })], 'bars: { property: scope, is: { TL: take-off and landing } }\n');
    expect(file.problems.join()).toContain('has "HALF" as its "scope", which the mapping does not name');
    expect(file).toMatchObject({ zones: [], uncovered: [BOX] });
  });

  test('a word that is none of the two is a slip of the mapping', () => {
    const { slips } = readMapping(`${MAPPING}bars: landings\n`, 'test.mapping.yaml');
    expect(slips.map(({ kind }) => kind)).toEqual(['word-unknown']);
  });
});

describe('the samples', () => {
  test.each([
    [
      'lakes-air-office',
      [
        'HZ 1 controlled',
        'HZ 1 controlled',
        'HZ 5 controlled',
        'HZ 9 danger',
        'HZ 15 restricted',
        'HG 31 cell',
        'HG 32 cell',
      ],
    ],
    [
      'weir-river-office',
      [
        'RO-4 geographical',
        'RO-7 geographical',
        'RO-11 geographical',
        'RO-12 controlled',
        'RO-16 geographical',
        'RO-21 cell',
      ],
    ],
  ])('%s', (name, ids) => {
    const mapping = readMapping(readProject(`samples/world/${name}.mapping.yaml`), 'm');
    expect(mapping.slips).toEqual([]);
    expect(mappingFaults(mapping)).toEqual([]);
    const file = readMappedZones(readProject(`samples/world/${name}.geojson`), mapping);
    expect(file).toMatchObject({ problems: [], uncovered: [] });
    expect(file.zones.map(({ id, kind }) => `${id} ${kind}`)).toEqual(ids);
  });
});

const FRENCH = 'airspace/fr_sia_airspaces_vfr.geojson';

/** Written for this test: the layout in which an open-source converter prints the French AIP of 2019-12-05. */
const FRENCH_MAPPING = `mapping: 1
of: French AIP as GeoJSON
id: id
name: name
text: [activationDesc]
kind: { property: type, is: { R: restricted, P: prohibited, D: danger, Q: danger, CTR: controlled, TMA: controlled, FIR: none, SIV: none } }
class: { property: srcClass, absent: none }
floor:
  property: lowerValue
  unit: { property: lowerUnit, is: { FT: ft, FL: FL, M: m } }
  datum: { property: lowerType, is: { HEI: AGL, ALT: AMSL, STD: standard pressure } }
ceiling:
  property: upperValue
  unit: { property: upperUnit, is: { FT: ft, FL: FL, M: m } }
  datum: { property: upperType, is: { HEI: AGL, ALT: AMSL, STD: standard pressure } }
active: { property: activationCode, is: { H24: always } }
`;

describe(`the airspaces of the French AIP in another layout (${NEEDS_REFERENCE_DATA})`, () => {
  const ABSENT = !hasReferenceData(FRENCH);
  const read = (): ZonesFile => {
    const mapping = readMapping(FRENCH_MAPPING, 'french.mapping.yaml');
    expect(mapping.slips).toEqual([]);
    return readMappedZones(readFileSync(inReferenceData(FRENCH), 'utf8'), mapping);
  };
  const FT = 0.3048;

  // Limits as the AIP (SIA, 2019-12-05) prints them, in the provenance of the file.
  test.skipIf(ABSENT).each([
    ['LFRH', 'controlled', 'D', 'surface', { aboveSea: 2500 * FT }],
    ['LFR278', 'restricted', undefined, 'surface', { aboveGround: 2500 * FT }],
    ['LFR239', 'restricted', undefined, { aboveGround: 500 * FT }, { aboveSea: 5000 * FT }],
    ['LFOB1', 'controlled', 'D', { aboveSea: 1500 * FT }, { aboveSea: 2500 * FT }],
  ])('%s', (id, kind, airspaceClass, floor, ceiling) => {
    const found = read().zones.filter((zone) => zone.id === id);
    expect(found).toHaveLength(1);
    expect(found[0]?.kind).toBe(kind);
    expect(found[0]?.airspaceClass).toBe(airspaceClass);
    for (const [edge, expected] of [
      [found[0]?.floor, floor],
      [found[0]?.ceiling, ceiling],
    ]) {
      if (typeof expected !== 'object') expect(edge).toBe(expected);
      else
        for (const [frame, value] of Object.entries(expected))
          expect(edge).toHaveProperty(frame, expect.closeTo(value, 9));
    }
  });

  test.skipIf(ABSENT)('every airspace that counts is used, none is lost without a word', () => {
    const file = read();
    expect(file.problems).toEqual([]);
    // Three of the real rings cross themselves in small loops where an arc joins a line; only that ground is left open.
    expect(file.uncovered).toHaveLength(4);
    for (const ground of file.uncovered) {
      if (ground === 'everywhere') throw new Error('a whole file is left open');
      expect(ground.north - ground.south).toBeLessThan(0.02);
    }
    const all = JSON.parse(readFileSync(inReferenceData(FRENCH), 'utf8')) as {
      features: { properties: { type: string } }[];
    };
    expect(all.features).toHaveLength(33);
    expect(file.zones).toHaveLength(all.features.filter(({ properties }) => properties.type !== 'FIR').length);
  });

  test.skipIf(ABSENT)('flight levels and hours that nobody can read from the file are kept as such', () => {
    const tma = read().zones.find(({ id }) => id === 'LFRH1');
    expect(tma?.ceiling).toEqual({ pressureAltitude: 19_500 * FT });
    expect(tma?.active).toEqual([{ untold: 'at times that its file gives as "HX"' }]);
  });

  test.skipIf(ABSENT)('LFR506A is a circle of 3.24 NM around 47°57′10″ N 2°12′32″ W', () => {
    const zone = read().zones.find(({ id }) => id === 'LFR506A');
    const lat = 47 + 57 / 60 + 10 / 3600;
    const perLat = 111_180;
    const shape = zone?.shape;
    if (shape === undefined) throw new Error('LFR506A is not there');
    const lon = -(2 + 12 / 60 + 32 / 3600);
    const radius = 3.24 * 1852;
    // Its polygon has 251 corners, so its edges lie up to half a metre inside the circle; coordinates have six decimals.
    expect(insideShape(shape, lonLat(lon, lat + (radius - 30) / perLat))).toBe(true);
    expect(insideShape(shape, lonLat(lon, lat + (radius + 30) / perLat))).toBe(false);
    const perLon = perLat * Math.cos((lat * Math.PI) / 180) * 1.0018;
    expect(insideShape(shape, lonLat(lon + (radius - 40) / perLon, lat))).toBe(true);
    expect(insideShape(shape, lonLat(lon + (radius + 40) / perLon, lat))).toBe(false);
  });
});
