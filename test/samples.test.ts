import { spawnSync } from 'node:child_process';
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { JsonReport } from '../server/src/cli/formats/json.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { call, EVENING, isBuilt } from './support/command-line.ts';
import { SAMPLE_RASTERS } from './support/make-samples.ts';
import { filesBelow, inProject, readProject } from './support/project.ts';
import { styleFaults } from './support/style.ts';
import { temporaryFolder } from './support/temporary-folder.ts';

type PlanReport = JsonReport['plans'][number];

const check = async (
  ...paths: readonly string[]
): Promise<{ readonly code: number | null; readonly report: JsonReport }> => {
  const { code, out, err } = await call(['check', '--now', EVENING, '--format', 'json', ...paths]);
  expect(err).toBe('');
  return { code, report: JSON.parse(out) as JsonReport };
};

const only = ({ plans }: JsonReport): PlanReport => {
  const [plan, ...more] = plans;
  if (plan === undefined || more.length > 0) throw new Error(`${plans.length} plans where one was expected`);
  return plan;
};

/** `12 rule-id` for a finding, `12 ? rule-id` for a gap, by line. */
const linesOf = (plan: PlanReport): readonly string[] =>
  [
    ...plan.findings.map(({ range, rule }) => ({ line: range.start.line, text: rule })),
    ...plan.gaps.map(({ range, rule }) => ({ line: range.start.line, text: `? ${rule}` })),
  ]
    .sort((one, other) => one.line - other.line || (one.text < other.text ? -1 : 1))
    .map(({ line, text }) => `${line} ${text}`);

const MANY_FAULTS = 'samples/missions/many-faults.mission.yaml';

/** All that is expected of each sample on the evening before. */
const EXPECTED: Readonly<Record<string, readonly string[]>> = {
  'samples/first.mission.yaml': [],
  'samples/lessons.mission.yaml': [
    '4 lost-link-unplanned',
    '9 registration-lapsed',
    '12 ground-permission-missing',
    '15 competency-lapsed',
    '23 visibility-below-minimum',
    '25 ? beyond-link-range',
    '29 point-above-height-limit',
    '32 seen-beyond-guidance-range',
    '32 zone-entered-unauthorised',
  ],
  'samples/missions/barn-roof.mission.yaml': [],
  'samples/missions/ferry-film.mission.yaml': [],
  'samples/missions/goggles-evening.mission.yaml': [],
  'samples/missions/over-the-gap.mission.yaml': ['26 leg-above-height-limit'],
  'samples/missions/reed-photos.mission.yaml': [],
  'samples/missions/shore-search.mission.yaml': [],
  'samples/missions/weir-eu.mission.yaml': [
    '5 ? aircraft-condition-unstated',
    '5 ? crew-fitness-unstated',
    '5 ? crewed-traffic-unstated',
    '5 ? dangerous-goods-unstated',
    '5 ? pilot-age-unstated',
    '5 ? restrictions-not-looked-up',
    '10 ? aircraft-unmarked',
  ],
  [MANY_FAULTS]: [
    '4 ? ground-permission-missing',
    '4 ? lost-link-unplanned',
    '8 offset-far-from-longitude',
    '10 registration-lapsed',
    '13 take-off-elevation-contradicted',
    '15 key-unknown',
    '18 goggles-without-observer',
    '23 plan-reused',
    '25 number-unreadable',
    '28 acceptance-of-law',
    '30 acceptance-rule-unknown',
    '32 ? beyond-link-range',
    '32 ? cloud-nearer-than-minimum',
    '32 ? contingency-reaches-zone',
    '32 ? energy-short',
    '32 ? guy-wires-near',
    '32 ? height-limit-within-terrain-error',
    '32 ? hidden-from-pilot',
    '32 ? reserve-below-policy',
    '32 ? return-energy-short',
    '32 ? seen-beyond-guidance-range',
    '32 ? seen-beyond-visibility',
    '32 ? window-too-short',
    '32 ? zone-entered-unauthorised',
    '37 zone-entered-unauthorised',
    '46 leg-meets-ground',
    '51 ? leg-above-height-limit',
    '51 ? leg-meets-ground',
    '51 ? point-above-height-limit',
    '51 ? point-below-ground',
    '53 number-without-unit',
    '56 ? point-above-height-limit',
    '56 ? point-below-ground',
    '58 altitude-without-datum',
    '63 ? leg-above-height-limit',
    '63 ? leg-meets-ground',
    '66 obstacle-struck',
    '69 ground-speed-above-limit',
    '69 leg-faster-than-aircraft',
    '72 ? leg-above-height-limit',
    '72 ? leg-meets-ground',
    '72 ? leg-without-length',
    '72 ? obstacle-struck',
    '73 position-out-of-range',
    '79 point-above-height-limit',
    '85 leg-above-height-limit',
    '85 seen-beyond-guidance-range',
    '91 name-repeated',
    '92 leg-without-length',
    '100 ? leg-above-height-limit',
    '100 ? leg-meets-ground',
    '100 ? obstacle-struck',
    '100 place-unknown',
    '102 value-of-wrong-kind',
  ],
};

describe('the sample plans', () => {
  const plans = filesBelow('samples').filter((path) => path.endsWith('.mission.yaml'));

  test('are all listed here', () => {
    expect(plans).toEqual(Object.keys(EXPECTED).sort());
  });

  test.each(plans)('%s: every finding and gap is expected, and none is lacking', async (path) => {
    const { report } = await check(path);
    const plan = only(report);
    expect(linesOf(plan)).toEqual(EXPECTED[path]);
    expect(plan.findings.flatMap(({ message }) => styleFaults(message))).toEqual([]);
  });

  test('the lessons are quiet when each has been followed', async () => {
    const folder = temporaryFolder();
    cpSync(inProject('samples'), folder, { recursive: true });
    const mended = readProject('samples/lessons.mission.yaml')
      .replace('dipper-2', 'dipper-1')
      .replace('elevation: 411 m }', 'elevation: 411 m }\n  permission: { of: shore owner, given: 2027-06-01 }')
      .replace('tested: 2024-10-05', 'tested: 2026-10-05')
      .replace('visibility: 4 km', 'visibility: 10 km')
      .replace('430 ft AGL', '200 ft AGL')
      .replace('47.46700, -120.61700', '47.46250, -120.60700')
      .replace('# lost-link:', 'lost-link:');
    writeFileSync(join(folder, 'lessons.mission.yaml'), mended);
    const { report } = await check(join(folder, 'lessons.mission.yaml'));
    expect(linesOf(only(report))).toEqual([]);
  });

  test('the first one has at most 40 lines, ends with 0, and nothing is found, accepted, lifted or left open', async () => {
    const text = readProject('samples/first.mission.yaml');
    expect(text.trimEnd().split('\n').length).toBeLessThanOrEqual(40);
    const { code, report } = await check('samples/first.mission.yaml');
    const plan = only(report);
    expect(code).toBe(0);
    expect(plan).toMatchObject({ complete: true, worst: null, findings: [], gaps: [], accepted: [], lifted: [] });
    expect(plan.matrix.filter(({ state }) => state === 'not-assessed')).toEqual([]);
    // Judged, not passed over: the ground was read and the heights worked out.
    expect(plan.data.map(({ name }) => name)).toContain('world/lakes.tif');
    expect(plan.margins.map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(['leg-above-height-limit', 'leg-meets-ground', 'seen-beyond-guidance-range']),
    );
  });

  test('four of them contain no point at all, and are judged nevertheless', async () => {
    const without = plans.filter((path) => !/^\s*- (?:\{ *)?point:/m.test(readProject(path)));
    expect(without).toEqual([
      'samples/missions/barn-roof.mission.yaml',
      'samples/missions/ferry-film.mission.yaml',
      'samples/missions/reed-photos.mission.yaml',
      'samples/missions/shore-search.mission.yaml',
    ]);
    for (const path of without) {
      const { code, report } = await check(path);
      expect(code).toBe(0);
      const heights = only(report).margins.filter(({ rule }) => /^(?:area|point)-above-height-limit$/.test(rule));
      expect(heights.length, path).toBeGreaterThan(0);
    }
  });

  test('an authorisation lifts the zone of the filming flight, and the report keeps the finding', async () => {
    const plan = only((await check('samples/missions/ferry-film.mission.yaml')).report);
    expect(plan.lifted.map(({ rule, by }) => `${rule} by ${by.name}`)).toEqual([
      'zone-entered-unauthorised by MM-2027-031',
    ]);
  });

  test('the search keeps its accepted finding with the reason', async () => {
    const plan = only((await check('samples/missions/shore-search.mission.yaml')).report);
    expect(plan.accepted.map(({ rule }) => rule)).toEqual(['seen-beyond-guidance-range']);
    expect(plan.accepted[0]?.by.because).toMatch(/strobe/);
  });

  test('zones of ED-318 and of a mapped layout lie over the weir, asleep on the day of the flight', async () => {
    const text = readProject('samples/missions/weir-eu.mission.yaml');
    const judge = async (day: string, from: string, until: string): Promise<readonly string[]> => {
      const moved = text
        .replace('from: 2027-06-15 09:00', `from: ${day} ${from}`)
        .replace('until: 2027-06-15 09:40', `until: ${day} ${until}`);
      const words = [
        'check',
        '-',
        '--name',
        'samples/missions/moved.mission.yaml',
        '--now',
        EVENING,
        '--format',
        'json',
      ];
      const { findings } = only(JSON.parse((await call(words, { input: moved })).out) as JsonReport);
      return findings.filter(({ rule }) => rule === 'zone-entered-unauthorised').map(({ subject }) => subject);
    };
    expect(await judge('2027-06-15', '09:00', '09:40')).toEqual([]);
    // 2027-06-19 is a Saturday, on which there is a market. Before dawn the bats have the tunnel.
    expect(await judge('2027-06-19', '09:00', '09:40')).toEqual(['zone WRC0002']);
    expect(await judge('2027-06-19', '06:00', '06:59')).toEqual([]);
    expect(await judge('2027-06-15', '03:00', '03:40')).toEqual(['zone RO-11']);
  });

  test('the rule sets are recreation, part 107 and the open category', async () => {
    const { report } = await check('samples');
    const sets = new Map(report.plans.map(({ path, ruleSet }) => [path, ruleSet]));
    expect(sets.get('samples/missions/goggles-evening.mission.yaml')).toBe('us-recreational');
    expect(sets.get('samples/missions/weir-eu.mission.yaml')).toBe('eu-open');
    expect(sets.get('samples/missions/barn-roof.mission.yaml')).toBe('us-part-107');
    // It names no country; the settings of the house do.
    expect(sets.get('samples/missions/shore-search.mission.yaml')).toBe('us-part-107');
  });

  test('the comments of the faulty plan explain exactly the rules that are found in it', async () => {
    const explained = [...readProject(MANY_FAULTS).matchAll(/^\s*# ([a-z0-9-]+)(?::| stands| follows)/gm)].map(
      (match) => match[1] ?? '',
    );
    const known = new Set(RULES.map((rule) => rule.id));
    expect(explained.filter((id) => !known.has(id))).toEqual([]);
    const found = only((await check(MANY_FAULTS)).report).findings.map(({ rule }) => rule);
    expect([...new Set(explained)].sort()).toEqual([...new Set(found)].sort());
  });

  test('what the page of samples proposes to try gives what it says', async () => {
    const text = readProject('samples/first.mission.yaml');
    const judge = async (changed: string): Promise<PlanReport> => {
      expect(changed).not.toBe(text);
      const words = ['check', '-', '--name', 'samples/tried.mission.yaml', '--now', EVENING, '--format', 'json'];
      return only(JSON.parse((await call(words, { input: changed })).out) as JsonReport);
    };
    const altitude = /(point: reed-east\n.*\n\s*altitude: )60 m AGL/;
    const bare = await judge(text.replace(altitude, '$160'));
    expect(bare.findings.map(({ rule }) => rule)).toEqual(['number-without-unit']);
    const high = await judge(text.replace(altitude, '$1430 ft AGL'));
    expect(high.findings.map(({ rule }) => rule)).toEqual(['point-above-height-limit']);
    const blind = await judge(text.replace(/^terrain:.*\n/m, ''));
    expect(blind.findings).toEqual([]);
    expect(blind.complete).toBe(false);
    expect(blind.gaps.map(({ rule }) => rule)).toContain('leg-meets-ground');
  });
});

describe('the rasters of the samples', () => {
  test.each(Object.keys(SAMPLE_RASTERS))('%s is what make-samples makes, and at most 100 kB', (path) => {
    const stored = readFileSync(inProject(`samples/${path}`));
    expect(stored.byteLength).toBeLessThanOrEqual(100_000);
    const made = SAMPLE_RASTERS[path]?.() ?? new Uint8Array();
    expect(Buffer.compare(stored, made), 'write it anew with SAMPLE_RASTERS of test/support/make-samples.ts').toBe(0);
  });

  test('every raster of the samples is made', () => {
    expect(
      filesBelow('samples')
        .filter((path) => path.endsWith('.tif'))
        .map((path) => path.slice('samples/'.length)),
    ).toEqual(Object.keys(SAMPLE_RASTERS).sort());
  });
});

describe('the demo', () => {
  test.skipIf(!isBuilt)('ends with 0 and shows a finding (skipped where the command line is not built)', () => {
    const done = spawnSync(process.execPath, [inProject('samples/demo.mjs')], { encoding: 'utf8', cwd: '/' });
    expect(done.stderr).toBe('');
    expect(done.status).toBe(0);
    expect(done.stdout).toContain('leg great-hob to little-hob reaches');
    const report = JSON.parse(readProject('build/demo-report.json')) as JsonReport;
    expect(report.plans.length).toBe(Object.keys(EXPECTED).length);
  });
});
