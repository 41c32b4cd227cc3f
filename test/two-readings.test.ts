import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Rule } from '../server/src/rulebook/rule.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { inProject } from './support/project.ts';

/**
 * Where the law can be read in two ways, the rule says which one it takes and what the other is. The rows are those of
 * the register of readings that the project was given, by their numbers.
 */
const READINGS: ReadonlyMap<number, { readonly rule: string; readonly names: RegExp }> = new Map([
  [1, { rule: 'ground-speed-above-limit', names: /87 knots.*100 mph/ }],
  [2, { rule: 'night-training-missing', names: /30 minutes.*6°/ }],
  [3, { rule: 'night-training-missing', names: /After April 6, 2021/ }],
  [4, { rule: 'cloud-nearer-than-minimum', names: /position/ }],
  [5, { rule: 'point-above-height-limit', names: /from its middle.*nearest point/ }],
  [6, { rule: 'hidden-from-pilot', names: /disappear for a moment/ }],
  [7, { rule: 'registration-missing', names: /250 g.*0\.55 lb/ }],
  [8, { rule: 'point-above-height-limit', names: /120 m \(400 ft\)/ }],
  [9, { rule: 'people-nearer-than-guidance', names: /safe distance/ }],
  [10, { rule: 'land-use-area-too-near', names: /150 m.*route/ }],
  [11, { rule: 'aircraft-too-heavy', names: /55 lb.*44809\(c\)\(3\)/ }],
  [12, { rule: 'request-names-no-structure', names: /tops.*above the sea/ }],
  [13, { rule: 'class-not-of-aircraft', names: /80 J/ }],
]);

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map((rule) => [rule.id, rule]));

test.each([...READINGS])('reading %i is told by its rule', (_row, { rule, names }) => {
  expect(byId.get(rule)?.otherReading).toMatch(names);
});

const BESIDE = inProject('../shared');
const HEADING = /^## 6\. Two readings register/m;

/** The register, wherever among the given texts it stands. */
const register = (): string | undefined => {
  if (!existsSync(BESIDE)) return undefined;
  const texts = readdirSync(BESIDE)
    .filter((name) => name.endsWith('.md'))
    .map((name) => readFileSync(`${BESIDE}/${name}`, 'utf8'));
  return texts.find((text) => HEADING.test(text));
};

test.skipIf(register() === undefined)(
  'every row of the register of readings is told by a rule (skipped where the register is absent)',
  () => {
    const text = register() ?? '';
    const section = text.slice(text.search(HEADING)).split(/\n---|\n# /)[0] ?? '';
    const rows = [...section.matchAll(/^\| (\d+) \|/gm)].map(([, row]) => Number(row));
    expect(rows.length).toBeGreaterThan(10);
    expect(rows.filter((row) => !READINGS.has(row))).toEqual([]);
    expect([...READINGS.keys()].filter((row) => !rows.includes(row))).toEqual([]);
  },
);
