import { describe, expect, test } from 'vitest';
import { restsOn } from '../../server/src/review/rests-on.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import type { Provenance } from '../../server/src/world/world.ts';
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

describe('of several data files', () => {
  const rule = RULES.find(({ id }) => id === 'obstacle-struck');
  const source = (name: string, edition: string, retrieved?: string) => ({
    name,
    edition,
    ...(retrieved === undefined ? {} : { retrieved }),
  });
  const said = async (terrain: string, data: readonly Provenance[]): Promise<string> => {
    if (rule === undefined) throw new Error('the rule has another name now');
    const { plan } = await judgeText(
      standardHead().replace('terrain: ground.tif', `terrain: ${terrain}`),
      parseWorld('', standardWorld()),
    );
    return restsOn({ ...rule, needs: ['terrain'] }, plan, data);
  };

  test('two are named, each with its edition', async () => {
    const data = [source('a.tif', '2026-01'), source('b.tif', '2025-07')];
    expect(await said('[a.tif, b.tif]', data)).toBe('; on a.tif (edition 2026-01) and b.tif (edition 2025-07)');
  });

  test('the tiles of a folder are one, with their number', async () => {
    const tiles = ['n47w120.tif', 'n47w121.tif', 'n48w121.tif'].map((tile) => source(`dem/${tile}`, '2024'));
    expect(await said('dem', tiles)).toBe('; on dem (3 files, edition 2024)');
    expect(await said('dem/', [...tiles, source('dem/new.tif', '2026')])).toBe('; on dem/ (4 files, 2 editions)');
  });

  test('more than two references are counted, with the age of the oldest', async () => {
    const data = [
      source('a.tif', '1', '2026-06-04T08:00:00Z'),
      source('b.tif', '2', '2026-05-15T08:00:00Z'),
      source('c.tif', '3'),
    ];
    expect(await said('[a.tif, b.tif, c.tif]', data)).toBe('; on 3 data files, the oldest 30 days old at take-off');
  });
});
