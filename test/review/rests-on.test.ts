import { expect, test } from 'vitest';
import { parseWorld } from '../support/fixture-world.ts';
import { judgeText } from '../support/judge-text.ts';
import { standardHead, standardWorld } from '../support/rule-examples.ts';

test('the matrix names what each verdict rests on, with edition and age at take-off', async () => {
  const review = await judgeText(standardHead(), parseWorld('', standardWorld()));
  const because = (rule: string): string => review.matrix.find((row) => row.rule === rule)?.because ?? '';
  expect(because('zone-entered-unauthorised')).toMatch(/zones\.geojson \(edition 2026-06-01, 2 days old at take-off\)/);
  expect(because('leg-above-height-limit')).toMatch(/; on ground\.tif \(edition /);
  expect(because('registration-lapsed')).toContain('craft.aircraft.yaml');
  expect(because('window-over')).not.toContain('; on ');
});

test('what was not assessed rests on nothing', async () => {
  const plan = standardHead().replace('terrain: ground.tif\n', '');
  const review = await judgeText(plan, parseWorld('', standardWorld()));
  const row = review.matrix.find(({ rule }) => rule === 'leg-meets-ground');
  expect(row).toEqual({ rule: 'leg-meets-ground', state: 'not-assessed', because: 'the plan names no terrain' });
});
