import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseFixture } from '../support/fixture.ts';
import { parseWorld } from '../support/fixture-world.ts';
import { judgeText } from '../support/judge-text.ts';

const support = (name: string): string => readFileSync(join(import.meta.dirname, '..', 'support', name), 'utf8');
const HEAD = support('standard-head.yaml');
const WORLD = support('standard-world.yaml');

/** Too high, inside class D without leave, and without a permission of the ground's owner. */
const PLAN = `site: { take-off: { lat: 47.5, lon: -120.5, elevation: 400 m } }
route:
  - take-off: home
  - point: bank
    at: 47.5, -120.499
    altitude: 130 m AGL
  - land: home
`;
const ZONE =
  'zones: [{ id: ctr-lakes, name: Lakes tower, kind: controlled, class: D, floor: surface, ceiling: 900 m AMSL, circle: { at: [-120.499, 47.5], radius: 30 m } }]\n';

const owed = async (settings: string, plan = PLAN) => {
  const [one] = parseFixture(`# x\n\n## y\n\n\`\`\`yaml plan\n${plan}\`\`\`\n`, HEAD, '');
  const world = parseWorld(`${ZONE}settings: |\n  settings: 1\n${settings}`, WORLD);
  const review = await judgeText(one?.text ?? '', world);
  return review.owed.map(({ kind, by, late, rules, whom }) => ({
    kind,
    whom,
    by: by === undefined ? undefined : new Date(by).toISOString(),
    late,
    rules,
  }));
};

test('whoever has to be asked is listed once, the earliest date first and those without a date last', async () => {
  // The window begins on 2026-06-14 at 13:40 UTC, and it is 04:00 UTC of that day.
  expect(await owed('  lead-times: { airspace: 30 d, ground: 8 h }\n')).toEqual([
    {
      kind: 'airspace',
      whom: 'air traffic control, or whoever manages the zone',
      by: '2026-05-15T13:40:00.000Z',
      late: true,
      rules: ['zone-entered-unauthorised'],
    },
    {
      kind: 'ground',
      whom: 'whoever owns or minds the ground',
      by: '2026-06-14T05:40:00.000Z',
      late: false,
      rules: ['ground-permission-missing'],
    },
    { kind: 'waiver', whom: 'the aviation authority', by: undefined, late: false, rules: ['point-above-height-limit'] },
  ]);
});

test('no time is assumed that the house does not state', async () => {
  const dates = (await owed('  country: US\n')).map(({ by, late }) => ({ by, late }));
  expect(dates).toEqual(Array.from({ length: 3 }, () => ({ by: undefined, late: false })));
});

test('in recreation there is no waiver to be asked for', async () => {
  const kinds = (await owed('  country: US\n', `purpose: recreation\n${PLAN}`)).map(({ kind }) => kind);
  expect(kinds).toEqual(['airspace', 'ground']);
});

test('nobody is asked about a flight that took place', async () => {
  const past = PLAN.replace(
    'route:',
    'flown: 2026-06-12\nwindow: { from: 2026-06-12 06:40 -07:00, until: 2026-06-12 07:10 -07:00 }\nroute:',
  );
  expect(await owed('  lead-times: { airspace: 30 d }\n', past)).toEqual([]);
});
