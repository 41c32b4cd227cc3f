import { describe, expect, test } from 'vitest';
import { boxAround } from '../../server/src/geo/box.ts';
import { worldCache } from '../../server/src/host/load-world.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { lonLat } from '../../server/src/units/frames.ts';
import { needsOf } from '../../server/src/world/needs.ts';
import { DOCUMENT, load, planOf, reasonOf, there } from '../support/load-plan.ts';
import { memoryFiles } from '../support/memory-files.ts';

const HERE = boxAround([lonLat(10, 46.99), lonLat(10.01, 47.01)]);
const box = (() => {
  if (HERE === undefined) throw new Error('no box');
  return HERE;
})();

const MAPPING = `mapping: 1
covers: [9, 46, 11, 48]
id: code
kind: { property: sort, is: { R: restricted } }
floor: { property: low, unit: ft, datum: AGL }
ceiling: { property: high, unit: ft, datum: AGL }
radius: { property: r, unit: NM }
`;
const featureOf = (properties: object): string =>
  JSON.stringify({
    type: 'FeatureCollection',
    features: [
      {
        type: 'Feature',
        properties: { code: 'R 1', sort: 'R', low: 0, high: 500, r: 1, ...properties },
        geometry: { type: 'Point', coordinates: [10, 47] },
      },
    ],
  });

const filesWith = (mapping: string | undefined, zones = featureOf({})) =>
  memoryFiles({
    [DOCUMENT]: '',
    '/house/world/office.geojson': zones,
    ...(mapping === undefined ? {} : { '/house/world/office.mapping.yaml': mapping }),
  });
const HEAD = 'airspace: [{ file: ../world/office.geojson, mapping: ../world/office.mapping.yaml }]';

describe('an airspace file with a mapping', () => {
  test('is read through it, and both are named among the data', async () => {
    const { world, problems } = await load(HEAD, filesWith(MAPPING));
    expect(problems).toEqual([]);
    const airspace = there(world.airspace);
    expect(airspace.zonesIn(box)).toMatchObject([{ id: 'R 1', kind: 'restricted', shape: { radius: 1852 } }]);
    expect(airspace.covers(box)).toBe(true);
    expect(world.data.map(({ name }) => name)).toEqual(['../world/office.mapping.yaml', '../world/office.geojson']);
  });

  test('is asked for with its mapping', () => {
    expect(needsOf(readPlan(planOf(HEAD), DOCUMENT)).files).toEqual([
      { role: 'airspace', reference: '../world/office.geojson' },
      { role: 'mapping', reference: '../world/office.mapping.yaml' },
    ]);
  });

  test.each([
    ['that is not there', undefined, 'does not exist'],
    [
      'that holds an unknown word',
      MAPPING.replace('restricted', 'closed'),
      'has a part that could not be read, about kind is R in line 4',
    ],
    ['with two faults', `${MAPPING.replace('restricted', 'closed')}colour: red\n`, 'in line 4, and 1 more'],
    [
      'whose hours cannot be read',
      `${MAPPING}active: { property: h, is: { X: [{ days: ANY, from: dawn, until: dusk }] } }\n`,
      'has for "X" an entry that has a time of day',
    ],
    ['that is broken', 'mapping: [1', 'could not be read'],
  ])('%s: the mapping is told, once, and the airspace is missing', async (_, mapping, problem) => {
    const { world, problems } = await load(HEAD, filesWith(mapping));
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatch(/^\.\.\/world\/office\.mapping\.yaml /);
    expect(problems[0]).toContain(problem);
    expect(reasonOf(world.airspace)).toBe(
      'airspace "../world/office.geojson" cannot be read without its mapping "../world/office.mapping.yaml"',
    );
  });

  test('of which a feature cannot be used covers no longer its ground', async () => {
    const { world, problems } = await load(HEAD, filesWith(MAPPING, featureOf({ sort: '?' })));
    expect(problems).toEqual([
      '../world/office.geojson has a fault: feature 1 ("R 1") has "?" as its "sort", which the mapping does not name',
    ]);
    expect(there(world.airspace).covers(box)).toBe(false);
  });

  test('is read anew when the mapping changes', async () => {
    const cache = worldCache();
    const first = await load(HEAD, filesWith(MAPPING), { cache });
    const second = await load(HEAD, filesWith(MAPPING.replace('unit: NM', 'unit: km')), { cache });
    expect(there(first.world.airspace).zonesIn(box)).toMatchObject([{ shape: { radius: 1852 } }]);
    expect(there(second.world.airspace).zonesIn(box)).toMatchObject([{ shape: { radius: 1000 } }]);
  });

  test('does not spoil another that is sound', async () => {
    const files = memoryFiles({
      [DOCUMENT]: '',
      '/house/world/office.geojson': featureOf({}),
      '/house/world/own.geojson': JSON.stringify({ type: 'FeatureCollection', covers: [9, 46, 11, 48], features: [] }),
    });
    const { world } = await load(
      'airspace: [../world/own.geojson, { file: ../world/office.geojson, mapping: ../world/none.mapping.yaml }]',
      files,
    );
    // It is there, but a file that could not be read could have said something about any place.
    expect(there(world.airspace).covers(box)).toBe(false);
  });
});

describe('a plan that names airspace', () => {
  test('with a mapping keeps the places of both', () => {
    const plan = readPlan(planOf(`purpose: survey\n${HEAD}`), DOCUMENT);
    expect(plan.slips).toEqual([]);
    expect(plan.airspace).toMatchObject([
      { value: '../world/office.geojson', mapping: { value: '../world/office.mapping.yaml' } },
    ]);
  });

  test.each([
    ['{ mapping: ../m.yaml }', 'key-missing'],
    ['{ file: a.geojson, mappings: b.yaml }', 'key-unknown'],
    ['[a.geojson]', 'value-of-wrong-kind'],
  ])('as %s has a slip', (entry, kind) => {
    expect(readPlan(planOf(`airspace: [${entry}]`), DOCUMENT).slips.map((slip) => slip.kind)).toContain(kind);
  });
});

test('the collections of a plan say from when until when they hold', async () => {
  const geozones = JSON.stringify({
    type: 'FeatureCollection',
    metadata: { validFrom: '2026-01-01T00:00:00Z', validTo: '2026-12-31T00:00:00Z' },
    features: [
      {
        type: 'Feature',
        geometry: { type: 'Point', coordinates: [10, 47], extent: { subType: 'Circle', radius: 500 } },
        properties: { identifier: 'A1', country: 'AUT', type: 'PROHIBITED', variant: 'COMMON', zoneAuthority: [{}] },
      },
    ],
  });
  const { world } = await load('airspace: [../world/office.geojson]', filesWith(undefined, geozones));
  expect(there(world.airspace).holds).toEqual([
    { reference: '../world/office.geojson', from: Date.UTC(2026, 0, 1), until: Date.UTC(2026, 11, 31) },
  ]);
});
