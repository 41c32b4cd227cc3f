import { expect, test } from 'vitest';
import { parseWorld } from './support/fixture-world.ts';
import { judgeText } from './support/judge-text.ts';
import { readProject } from './support/project.ts';
import { standardWorld } from './support/rule-examples.ts';

/** The README's plan is one that a newcomer copies, so it must be read without a fault. */
const plans = [...readProject('README.md').matchAll(/```yaml\n(mission: 1\n[\s\S]*?)```/g)].map(
  (match) => match[1] ?? '',
);

test('the README shows one whole plan', () => {
  expect(plans).toHaveLength(1);
});

test('the plan of the README is right: nothing is found in it, and nothing is missing but its files', async () => {
  const [plan = ''] = plans;
  const flat = plan
    .replace('../fleet/bittern-2.aircraft.yaml', 'craft.aircraft.yaml')
    .replace('../world/lakes.tif', 'ground.tif')
    .replace('../world/zones.geojson', 'zones.geojson')
    // The fixtures' files are of June 2026; the README's year is further on.
    .replaceAll('2026-', '2025-')
    .replaceAll('2027-', '2026-');
  const world = parseWorld(
    'now: 2026-06-13 12:00 Z\nground: { flat: 402 m }\nmiddle: [-120.48, 47.503]\n',
    standardWorld(),
  );
  const review = await judgeText(flat, world);
  expect(review.findings.map(({ message }) => message)).toEqual([]);
  expect(review.gaps.map(({ reason }) => reason)).toEqual([]);
});

test('every accepts and authorisations line of the README is read', async () => {
  const lines = [...readProject('README.md').matchAll(/^ {2}`((?:accepts|authorisations): .*)`\.$/gm)].map(
    (match) => match[1],
  );
  expect(lines).toHaveLength(2);
  const [plan = ''] = plans;
  const review = await judgeText(`${plan}${lines.join('\n')}\n`, parseWorld('', standardWorld()));
  expect(review.plan.slips).toEqual([]);
});
