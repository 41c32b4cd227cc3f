import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { readMapping } from '../../server/src/plan/read-mapping.ts';
import { readObstacles } from '../../server/src/world/obstacles-geojson.ts';
import { readPeopleFile } from '../../server/src/world/people-geojson.ts';
import { readRunways } from '../../server/src/world/runways-geojson.ts';
import { readZones } from '../../server/src/world/zones-geojson.ts';
import { mappingFaults } from '../../server/src/world/zones-mapped.ts';
import { readProject } from '../support/project.ts';

interface Property {
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly 'x-origin'?: string;
  readonly properties?: Readonly<Record<string, Property>>;
  readonly items?: Property;
}

interface Schema extends Property {
  readonly $defs: Readonly<Record<string, Property>>;
}

const schemaOf = (name: string): Schema => JSON.parse(readProject(`schemas/${name}.schema.json`)) as Schema;

const validatorOf = (name: string) =>
  new Ajv2020({ strict: false, allErrors: true }).compile(
    JSON.parse(readProject(`schemas/${name}.schema.json`)) as object,
  );

const propertiesBelow = (property: Property, path: string): readonly (readonly [string, Property])[] => [
  ...Object.entries(property.properties ?? {}).flatMap(([key, inner]): readonly (readonly [string, Property])[] => [
    [`${path}/${key}`, inner],
    ...propertiesBelow(inner, `${path}/${key}`),
  ]),
  ...(property.items === undefined ? [] : propertiesBelow(property.items, `${path}/[]`)),
];

const SQUARE = [
  [10, 47],
  [10.1, 47],
  [10.1, 47.1],
  [10, 47],
];
const zonesWith = (properties: unknown, geometry: object): object => ({
  type: 'FeatureCollection',
  covers: [9, 46, 11, 48],
  features: [{ type: 'Feature', properties, geometry }],
});
const geometryFor = (properties: unknown): object =>
  typeof properties === 'object' && properties !== null && 'radius' in properties
    ? { type: 'Point', coordinates: [10, 47] }
    : { type: 'Polygon', coordinates: [SQUARE] };

describe.each(['zones', 'obstacles', 'people', 'runways'])('the schema of %s', (name) => {
  const schema = schemaOf(name);

  test('describes every property, with an example and where its name comes from', () => {
    const all = [schema, ...Object.values(schema.$defs)].flatMap((part) => propertiesBelow(part, ''));
    expect(all.length).toBeGreaterThan(8);
    const properties = all.filter(([path, property]) => !('$ref' in property) && !path.startsWith('/geometry/'));
    for (const [path, property] of properties) {
      expect(property.description, path).toMatch(/\.$/);
      expect(property['x-origin'], path).toBeTruthy();
      expect(property.examples?.length, path).toBeGreaterThan(0);
    }
  });
});

test('every example of a zone is valid and read without a problem', () => {
  const valid = validatorOf('zones');
  const examples = schemaOf('zones').$defs['properties']?.examples ?? [];
  expect(examples.length).toBeGreaterThan(2);
  for (const properties of examples) {
    const file = zonesWith(properties, geometryFor(properties));
    expect(valid(file), JSON.stringify(valid.errors)).toBe(true);
    expect(readZones(JSON.stringify(file))).toMatchObject({ problems: [], zones: [{}] });
  }
});

test('every example of an edge, a radius and a covered box is read', () => {
  const { properties = {} } = schemaOf('zones').$defs['properties'] ?? {};
  for (const ceiling of properties['ceiling']?.examples ?? []) {
    const file = zonesWith({ kind: 'house', floor: 'surface', ceiling }, geometryFor({}));
    expect(readZones(JSON.stringify(file)).problems).toEqual([]);
  }
  for (const floor of properties['floor']?.examples ?? []) {
    const file = zonesWith({ kind: 'house', floor, ceiling: 'unlimited' }, geometryFor({}));
    expect(readZones(JSON.stringify(file)).problems).toEqual([]);
  }
  for (const active of properties['active']?.examples ?? []) {
    const file = zonesWith({ kind: 'house', floor: 'surface', ceiling: 'unlimited', active }, geometryFor({}));
    expect(validatorOf('zones')(file)).toBe(true);
    expect(readZones(JSON.stringify(file)).problems).toEqual([]);
  }
  for (const radius of properties['radius']?.examples ?? []) {
    const file = zonesWith({ kind: 'house', floor: 'surface', ceiling: 'unlimited', radius }, geometryFor({ radius }));
    expect(readZones(JSON.stringify(file)).problems).toEqual([]);
  }
  for (const covers of schemaOf('zones').properties?.['covers']?.examples ?? []) {
    const file = { type: 'FeatureCollection', covers, features: [] };
    expect(validatorOf('zones')(file)).toBe(true);
    expect(readZones(JSON.stringify(file)).covers?.length).toBeGreaterThan(0);
  }
});

test('what the schema of zones refuses, the reader reports', () => {
  const valid = validatorOf('zones');
  const sound = { kind: 'controlled', class: 'D', floor: 'surface', ceiling: 'unlimited' };
  for (const wrong of [
    { kind: 'forbidden' },
    { class: 'H' },
    { floor: 7 },
    { ceiling: 1500 },
    { active: [] },
    { active: [{}] },
    { surfaceAreaOfAirport: 'yes' },
  ]) {
    const file = zonesWith({ ...sound, ...wrong }, geometryFor({}));
    expect(valid(file), JSON.stringify(wrong)).toBe(false);
    expect(readZones(JSON.stringify(file)).problems, JSON.stringify(wrong)).toHaveLength(1);
  }
});

test('every example of an obstacle is valid and read without a problem', () => {
  const valid = validatorOf('obstacles');
  const examples = schemaOf('obstacles').$defs['properties']?.examples ?? [];
  expect(examples.length).toBeGreaterThan(1);
  for (const properties of examples) {
    const geometry = { type: 'Point', coordinates: [10, 47] };
    const file = { type: 'FeatureCollection', features: [{ type: 'Feature', properties, geometry }] };
    expect(valid(file), JSON.stringify(valid.errors)).toBe(true);
    expect(readObstacles(JSON.stringify(file))).toMatchObject({ problems: [], whole: true });
  }
});

describe('the schema of mappings', () => {
  const schema = schemaOf('mapping');
  const properties = schema.properties ?? {};

  /** An example as YAML in one line: JSON is YAML, apart from a format number that may not be text. */
  const lineOf = (key: string, example: unknown): string => `${key}: ${JSON.stringify(example)}\n`;
  const slipsOf = (lines: readonly string[]): readonly string[] => {
    const mapping = readMapping(lines.join(''), 'test.mapping.yaml');
    return [
      ...mapping.slips.map(({ kind, subject, field }) => `${kind} ${field ?? subject}`),
      ...mappingFaults(mapping),
    ];
  };
  const SOUND: Readonly<Record<string, string>> = {
    mapping: 'mapping: 1\n',
    kind: 'kind: house\n',
    floor: 'floor: { property: low }\n',
    ceiling: 'ceiling: { property: high }\n',
  };

  test('describes every key, with an example and where its word comes from', () => {
    const all = [schema, ...Object.values(schema.$defs)].flatMap((part) => propertiesBelow(part, ''));
    expect(all.length).toBeGreaterThan(20);
    for (const [path, property] of all.filter(([, each]) => each.description !== undefined || !('$ref' in each))) {
      expect(property.description, path).toMatch(/\.$/);
      expect(property['x-origin'], path).toBeTruthy();
      expect(property.examples?.length, path).toBeGreaterThan(0);
    }
  });

  test.each(Object.keys(properties))('reads every example of %s', (key) => {
    for (const example of properties[key]?.examples ?? []) {
      const lines = Object.entries(SOUND).map(([each, line]) => (each === key ? '' : line));
      expect(slipsOf([...lines, lineOf(key, example)]), JSON.stringify(example)).toEqual([]);
    }
  });

  test('has no key that the reader leaves unread', () => {
    const text = Object.entries(properties)
      .map(([key, { examples = [] }]) => lineOf(key, examples[examples.length - 1]))
      .join('');
    const { document: _, slips, ...read } = readMapping(text, 'test.mapping.yaml');
    expect(slips).toEqual([]);
    // The format number says nothing more.
    expect(Object.keys(read)).toHaveLength(Object.keys(properties).length - 1);
  });
});

test('every example of an area with people is valid and read without a problem', () => {
  const valid = validatorOf('people');
  const examples = schemaOf('people').$defs['properties']?.examples ?? [];
  expect(examples.length).toBeGreaterThan(2);
  for (const properties of examples) {
    const isLine = typeof properties === 'object' && properties !== null && 'width' in properties;
    const line = { type: 'LineString', coordinates: SQUARE.slice(0, 3) };
    const file = zonesWith(properties, isLine ? line : geometryFor(properties));
    expect(valid(file), JSON.stringify(valid.errors)).toBe(true);
    expect(readPeopleFile(JSON.stringify(file))).toMatchObject({ problems: [], whole: true, areas: [{}] });
  }
});

test('every example of a runway is valid and read without a problem', () => {
  const valid = validatorOf('runways');
  const examples = schemaOf('runways').$defs['properties']?.examples ?? [];
  expect(examples.length).toBeGreaterThan(1);
  for (const properties of examples) {
    const file = zonesWith(properties, { type: 'LineString', coordinates: SQUARE.slice(0, 2) });
    expect(valid(file), JSON.stringify(valid.errors)).toBe(true);
    expect(readRunways(JSON.stringify(file))).toMatchObject({ problems: [], whole: true, runways: [{}] });
  }
});
