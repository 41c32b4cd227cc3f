import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { compareReport } from '../../server/src/cli/formats/compare-json.ts';
import { COMPARE_MARK } from '../../server/src/cli/formats/compare-markdown.ts';
import { call, EVENING } from '../support/command-line.ts';
import { type MadeRepository, makeRepository } from '../support/made-repository.ts';
import { inProject, readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

type Report = ReturnType<typeof compareReport>;

const validate = new Ajv2020({ strict: true, allowUnionTypes: true, formats: { 'date-time': true } }).compile(
  JSON.parse(readProject('schemas/compare.schema.json')) as object,
);

const FIRST = readProject('samples/first.mission.yaml');
const SEARCH = readProject('samples/missions/shore-search.mission.yaml');
const AIRCRAFT = readProject('samples/fleet/dipper-1.aircraft.yaml');
const PLAN = 'first.mission.yaml';

/** A made-up house whose plans change commit by commit. */
describe('a comparison of two versions', () => {
  let made: MadeRepository;
  const commits = new Map<string, string>();
  const home = process.cwd();

  const commit = (name: string, files: Readonly<Record<string, string | undefined>>): void => {
    for (const [path, content] of Object.entries(files)) made.put(path, content);
    commits.set(name, made.commit(name));
  };

  beforeAll(() => {
    made = makeRepository(temporaryFolder());
    for (const path of ['world/lakes.tif', 'world/lakes-zones.geojson', 'world/lakes-obstacles.geojson']) {
      made.put(path, readFileSync(inProject(`samples/${path}`)));
    }
    commit('start', {
      [PLAN]: FIRST,
      'missions/search.mission.yaml': SEARCH,
      'fleet/dipper-1.aircraft.yaml': AIRCRAFT,
      'waywarden.settings.yaml':
        'settings: 1\ncountry: US\nlimits:\n  height: { is: 100 m AGL, because: the custom of the house }\n',
    });
    commit('moved', { [PLAN]: FIRST.replace('47.46200, -120.60850', '47.46210, -120.60850') });
    commit('renamed', { [PLAN]: FIRST.replaceAll('reed-west', 'reed-end') });
    commit('raised', { [PLAN]: FIRST.replace('60 m AGL', '140 m AGL') });
    commit('raised more', { [PLAN]: FIRST.replaceAll('reed-west', 'reed-end').replace('60 m AGL', '150 m AGL') });
    commit('mended', { [PLAN]: FIRST });
    commit('limit loosened', {
      [PLAN]: FIRST.replace('60 m AGL', '110 m AGL'),
      'waywarden.settings.yaml':
        'settings: 1\ncountry: US\nlimits:\n  height: { is: 118 m AGL, because: the custom of the house }\n',
    });
    commit('aircraft replaced', {
      [PLAN]: FIRST,
      'fleet/dipper-1.aircraft.yaml': AIRCRAFT.replace('max-wind: 11 m/s', 'max-wind: 4 m/s'),
    });
    commit('aircraft back', {
      'fleet/dipper-1.aircraft.yaml': AIRCRAFT,
      [PLAN]: FIRST.replace('60 m AGL', '140 m AGL'),
    });
    commit('terrain dropped', {
      [PLAN]: FIRST.replace('60 m AGL', '140 m AMSL').replace('terrain: world/lakes.tif\n', ''),
    });
    commit('moved folder', {
      [PLAN]: undefined,
      'north/first.mission.yaml': FIRST.replaceAll('world/', '../world/').replaceAll('fleet/', '../fleet/'),
    });
    commit('gone', { 'north/first.mission.yaml': undefined });
    process.chdir(made.root);
  });
  afterAll(() => process.chdir(home));

  const compared = async (
    base: string,
    head: string,
  ): Promise<{ readonly report: Report; readonly code: number | null }> => {
    const range = `${commits.get(base) ?? base}...${commits.get(head) ?? head}`;
    const { out, err, code } = await call(['compare', range, '--format', 'json', '--now', EVENING]);
    expect(err).toBe('');
    const report = JSON.parse(out) as Report;
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    return { report, code };
  };

  /** Fate, level and rule of what did not stay as it was, of one plan. */
  const fates = ({ plans }: Report, path = PLAN): readonly string[] =>
    plans
      .filter(({ before, after }) => after?.path === path || before?.path === path)
      .flatMap(({ findings }) => findings.filter(({ fate }) => fate !== 'unchanged'))
      .map(({ fate, level, rule }) => `${fate}: ${level} ${rule}`);

  test('tells a point that moved, and lets it pass', async () => {
    const { report, code } = await compared('start', 'moved');
    expect(code).toBe(0);
    expect(report.plans.map(({ changes }) => changes.map(({ text }) => text))).toEqual([
      ['point reed-west moved 11 m: "47.46200, -120.60850" → "47.46210, -120.60850"'],
    ]);
  });

  test('tells a breach that a change brings, and stops there', async () => {
    const { report, code } = await compared('renamed', 'raised');
    expect(code).toBe(1);
    expect(fates(report)).toContain('introduced: stop point-above-height-limit');
    expect(report.plans[0]?.changes.map(({ text }) => text)).toContain(
      'point reed-west: altitude "60 m AGL" → "140 m AGL" (+80 m)',
    );
  });

  test('knows a finding by its name, also when the item got another and the number changed', async () => {
    const { report } = await compared('raised', 'raised more');
    expect(fates(report)).toContain('worsened: stop point-above-height-limit');
    expect(fates(report).filter((line) => line.includes('point-above'))).toHaveLength(1);
  });

  test('tells what is mended', async () => {
    const { report, code } = await compared('raised more', 'mended');
    expect(code).toBe(0);
    expect(fates(report)).toContain('mended: stop point-above-height-limit');
  });

  test('judges by the stricter settings, so that no change lets itself pass', async () => {
    const { report, code } = await compared('mended', 'limit loosened');
    expect(code).toBe(1);
    const [plan] = report.plans.filter(({ after }) => after?.path === PLAN);
    expect(plan?.settings).toEqual([{ kind: 'limit loosened', name: 'height', before: '100 m', after: '118 m' }]);
    // 110 m is within the new limit of the house, and beyond the old one.
    expect(fates(report).some((line) => line.startsWith('introduced') && line.includes('height'))).toBe(true);
    // The other plan is named, too: the same settings hold for it.
    expect(report.plans.map(({ after }) => after?.path)).toContain('missions/search.mission.yaml');
  });

  test('names every plan that a changed aircraft newly breaks, though the plan itself stayed', async () => {
    const { report, code } = await compared('mended', 'aircraft replaced');
    expect(code).toBe(1);
    expect(report.plans).toHaveLength(2);
    for (const path of [PLAN, 'missions/search.mission.yaml'])
      expect(fates(report, path).some((line) => line.includes('wind-above-aircraft-limit'))).toBe(true);
    expect(report.plans.every(({ changes }) => changes.length === 0)).toBe(true);
  });

  test('never takes for mended what is not assessed any more', async () => {
    const { report, code } = await compared('aircraft back', 'terrain dropped');
    expect(code).toBe(1);
    expect(fates(report)).toContain('no longer assessed: stop point-above-height-limit');
    expect(fates(report).some((line) => line.startsWith('mended') && line.includes('height-limit'))).toBe(false);
  });

  test('follows a plan to another folder, and tells one that is gone', async () => {
    const { report } = await compared('mended', 'moved folder');
    const moved = report.plans.find(({ after }) => after?.path === 'north/first.mission.yaml');
    expect(moved?.before?.path).toBe(PLAN);
    expect(fates(report, 'north/first.mission.yaml')).toEqual([]);
    const gone = await compared('moved folder', 'gone');
    expect(gone.report.plans.map(({ before, after }) => [before?.path, after])).toEqual([
      ['north/first.mission.yaml', null],
    ]);
    expect(gone.code).toBe(0);
  });

  test('compares from where the two lines of work parted', async () => {
    made.git('checkout', '-q', '-b', 'side', commits.get('start') ?? '');
    made.put(PLAN, FIRST.replace('60 m AGL', '70 m AGL'));
    const side = made.commit('side');
    made.git('checkout', '-q', 'main');
    const { report } = await compared('mended', side);
    expect(report.plans.map(({ changes }) => changes.map(({ text }) => text))).toEqual([
      ['point reed-west: altitude "60 m AGL" → "70 m AGL" (+10 m)'],
    ]);
  });

  test('takes the working tree where no head is named', async () => {
    made.put('new.mission.yaml', FIRST.replace('60 m AGL', '140 m AGL'));
    const { out, code } = await call(['compare', 'HEAD', '--now', EVENING]);
    made.put('new.mission.yaml', undefined);
    expect(code).toBe(1);
    expect(out).toContain('new.mission.yaml (new)');
    expect(out).toContain('introduced');
    expect(out).not.toMatch(/\bsafe\b|\blegal\b|\bclear\b/);
  });

  test('writes a comment that says the weightiest first and changes only with the matter', async () => {
    const range = `${commits.get('mended') ?? ''}...${commits.get('aircraft replaced') ?? ''}`;
    const comment = async (): Promise<string> =>
      (await call(['compare', range, '--format', 'markdown', '--now', EVENING])).out;
    const one = await comment();
    expect(one.startsWith(`${COMPARE_MARK}\n## Mission plans: to be looked at\n`)).toBe(true);
    expect(one.length).toBeLessThanOrEqual(60_000);
    expect(one).toContain('The plan itself did not change: something that it refers to did.');
    expect(one).toMatch(/```geojson\n\{.*"before: leg.*"after: leg/);
    expect(await comment()).toBe(one);
  });

  test.each([
    [['compare'], 'compare takes one range'],
    [['compare', 'HEAD..main'], 'HEAD...main'],
    [['compare', 'no-such-branch'], 'git fetch'],
    [['compare', '--', '--upload-pack=x'], 'is no name'],
    [['compare', '...'], 'compare takes BASE...HEAD'],
    [['compare', 'HEAD', '--format', 'sarif'], 'there is no format'],
  ])('%j ends with 2 and says what helps', async (words, why) => {
    const { code, err } = await call(words);
    expect(code).toBe(2);
    expect(err).toContain(why);
  });
});
