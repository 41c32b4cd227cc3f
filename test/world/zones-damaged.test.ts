import { expect, test } from 'vitest';
import { readMapping } from '../../server/src/plan/read-mapping.ts';
import type { ZonesFile } from '../../server/src/world/zones-file.ts';
import { readZones } from '../../server/src/world/zones-geojson.ts';
import { mappingFaults, readMappedZones } from '../../server/src/world/zones-mapped.ts';
import { readProject } from '../support/project.ts';
import { seeded } from '../support/random.ts';

type Node = unknown;
const JUNK: readonly Node[] = [null, true, -1, 1e308, '', 'x', '\u0000', [], {}, [[[]]], { type: 'Point' }, 'FL 65'];

/** The same value with one of its parts, at some depth, gone or turned into something else. */
const damaged = (node: Node, random: () => number): Node => {
  const pick = <T>(list: readonly T[]): T | undefined => list[Math.floor(random() * list.length)];
  if (typeof node !== 'object' || node === null || random() < 0.15) return pick(JUNK);
  if (Array.isArray(node)) {
    const at = Math.floor(random() * node.length);
    return node.map((part: Node, i) => (i === at ? damaged(part, random) : part));
  }
  const key = pick(Object.keys(node));
  if (key === undefined) return pick(JUNK);
  if (random() < 0.2) return Object.fromEntries(Object.entries(node).filter(([each]) => each !== key));
  return { ...node, [key]: damaged((node as Record<string, Node>)[key], random) };
};

const mapping = readMapping(readProject('samples/world/lakes-air-office.mapping.yaml'), 'm');
const FILES: readonly (readonly [string, (text: string) => ZonesFile])[] = [
  ['lakes-zones.geojson', readZones],
  ['weir-geozones.json', readZones],
  ['lakes-air-office.geojson', (text) => readMappedZones(text, mapping)],
];

test.each(FILES)('%s, damaged in a thousand ways, is read or told', (name, read) => {
  const sound: Node = JSON.parse(readProject(`samples/world/${name}`));
  const whole = read(JSON.stringify(sound));
  expect(whole.problems).toEqual([]);
  const random = seeded(7);
  let told = 0;
  for (let n = 0; n < 1000; n++) {
    const file = read(JSON.stringify(damaged(sound, random)));
    for (const { box, floor, ceiling } of file.zones) {
      expect([box.west, box.south, box.east, box.north].every(Number.isFinite)).toBe(true);
      expect(floor).not.toBe('unlimited');
      expect(ceiling).not.toBe('surface');
    }
    if (file.problems.length > 0) told++;
    expect(file.problems.every((problem) => /^(?:is|has|names|holds) /.test(problem))).toBe(true);
  }
  expect(told).toBeGreaterThan(100);
});

test('a mapping, cut anywhere, is read or told', () => {
  for (const name of ['lakes-air-office', 'weir-river-office']) {
    const text = readProject(`samples/world/${name}.mapping.yaml`);
    for (let end = 0; end < text.length; end += 7) {
      const cut = readMapping(text.slice(0, end), 'm');
      expect(() => mappingFaults(cut)).not.toThrow();
      if (cut.slips.length > 0) continue;
      expect([cut.kind, cut.floor, cut.ceiling].every((part) => part !== undefined)).toBe(true);
      expect(() => readMappedZones(readProject(`samples/world/${name}.geojson`), cut)).not.toThrow();
    }
  }
});
