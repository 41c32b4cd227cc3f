import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseFixture } from '../support/fixture.ts';
import { parseWorld } from '../support/fixture-world.ts';
import { judgeText } from '../support/judge-text.ts';

const support = (name: string): string => readFileSync(join(import.meta.dirname, '..', 'support', name), 'utf8');

const stateOf = async (rule: string, plan: string, world = '') => {
  const [one] = parseFixture(`# x\n\n## y\n\n\`\`\`yaml plan\n${plan}\`\`\`\n`, support('standard-head.yaml'), '');
  const review = await judgeText(one?.text ?? '', parseWorld(world, support('standard-world.yaml')));
  return review.matrix.find((row) => row.rule === rule);
};

const flownOn = (day: string, more = ''): string =>
  `flown: ${day}\nwindow: { from: ${day} 22:40 -07:00, until: ${day} 23:10 -07:00 }\n${more}`;

// 86 FR 4314: the rules for night operations took effect on 21 April 2021.
test('a flight of the day before the training for night was asked for is not judged by it', async () => {
  expect(await stateOf('night-training-missing', flownOn('2021-04-20'))).toEqual({
    rule: 'night-training-missing',
    state: 'out-of-reach',
    because: 'in force since 2021-04-21 only; what held on 2021-04-20 is not judged',
  });
  expect((await stateOf('night-training-missing', flownOn('2021-04-21')))?.state).not.toBe('out-of-reach');
});

// (EU) 2019/947 Art. 20 and 22: class marks decide from 1 January 2024 on.
test('class marks decide in the European Union from 2024 on', async () => {
  const plan = (day: string) => flownOn(day, 'country: FR\ncategory: A2\n');
  expect((await stateOf('category-not-for-aircraft', plan('2023-12-31')))?.state).toBe('out-of-reach');
  expect((await stateOf('category-not-for-aircraft', plan('2024-01-01')))?.state).not.toBe('out-of-reach');
});

// FAA Reauthorization Act of 2024, sec. 928, 16 May 2024: 55 pounds or greater; before, more than 55 pounds.
test('exactly 55 lb were within the rules of recreation until 16 May 2024', async () => {
  const heavy =
    'aircraft: |\n  aircraft: 1\n  name: bustard\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 55 lb\n  size: 1.9 m\n';
  const plan = (day: string) => flownOn(day, 'purpose: recreation\n');
  expect((await stateOf('aircraft-too-heavy', plan('2024-05-15'), heavy))?.state).toBe('met');
  expect((await stateOf('aircraft-too-heavy', plan('2024-05-16'), heavy))?.state).toBe('not-assessed');
});
