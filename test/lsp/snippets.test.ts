import { expect, test } from 'vitest';
import { ITEM_SHAPES } from '../../server/src/plan/describe.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { readProject } from '../support/project.ts';

interface Snippet {
  readonly prefix: string;
  readonly body: readonly string[];
}

const snippets: Readonly<Record<string, Snippet>> = JSON.parse(readProject('client/language/snippets.json'));

/** A snippet as it stands when every placeholder is left as it is. */
const filled = (body: readonly string[]): string =>
  body
    .join('\n')
    .replace(/\$\{\d+:([^}]*)\}/g, '$1')
    .replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1')
    .replace(/\$\d+/g, '');

const find = (prefix: string): string => {
  const snippet = Object.values(snippets).find((each) => each.prefix === prefix);
  if (snippet === undefined) throw new Error(`there is no snippet ${prefix}`);
  return filled(snippet.body);
};

test('the snippet of a whole plan reads without a slip', () => {
  const plan = readPlan(find('mission'), 'snippet');
  expect(plan.slips).toEqual([]);
  expect(plan.items.map(({ kind }) => kind)).toEqual(['take-off', 'point', 'land']);
});

test.each(Object.values(snippets).filter(({ prefix }) => prefix !== 'mission'))(
  'the snippet "$prefix" puts items into a route that reads without a slip',
  ({ prefix, body }) => {
    expect(ITEM_SHAPES).toContain(prefix);
    const [head = ''] = find('mission').split('  - take-off');
    const plan = readPlan(head + filled(body).replace(/^(?=.)/gm, '  '), 'snippet');
    expect(plan.slips).toEqual([]);
    expect(plan.items.length).toBeGreaterThan(0);
  },
);
