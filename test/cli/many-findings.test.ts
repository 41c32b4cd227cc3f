import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { FORMATS, type Format } from '../../server/src/cli/arguments.ts';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import { prepare } from '../../server/src/host/prepare.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import { call, EVENING } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import type { SarifLog } from '../support/sarif.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const MANY = 5200;
const ROUTE = /^ {2}- point: reed-west[\s\S]*?(?= {2}- land)/m;

/** A plan with as many points that are too high, each on a line of its own. */
const plan = (): string =>
  readProject('samples/first.mission.yaml').replace(
    ROUTE,
    Array.from(
      { length: MANY },
      (_, i) => `  - { point: p${i}, at: "47.46200, -120.6${1000 + i}", altitude: 130 m AGL }\n`,
    ).join(''),
  );

/** The one rule that finds something at each point, and one that has nothing to go by. */
const HIGH = RULES.filter(({ id }) => id === 'point-above-height-limit' || id === 'visibility-below-minimum');

describe(`${MANY} findings in one plan`, () => {
  const reports = {} as Record<Format, string>;
  let json: JsonReport;

  beforeAll(async () => {
    const folder = temporaryFolder({ 'many.mission.yaml': plan().replace(/^weather:.*\n/m, '') });
    const words = FORMATS.flatMap((format) => ['--format', `${format}=${join(folder, format)}`]);
    const { code } = await call(['check', '--now', EVENING, ...words, join(folder, 'many.mission.yaml')], {
      prepare: async (...given) => {
        const prepared = await prepare(...given);
        return { ...prepared, input: { ...prepared.input, rules: HIGH } };
      },
    });
    expect(code).toBe(1);
    for (const format of FORMATS) reports[format] = readFileSync(join(folder, format), 'utf8');
    json = JSON.parse(reports.json) as JsonReport;
  }, 120_000);

  test('are all in the reports that are made for machines', () => {
    expect(json.totals.stop).toBe(MANY);
    const sarif = JSON.parse(reports.sarif) as SarifLog;
    expect(sarif.runs[0].results.filter(({ ruleId }) => ruleId === 'point-above-height-limit')).toHaveLength(MANY);
    expect(reports.gnu.split('\n')).toHaveLength(MANY + 2);
    expect(JSON.parse(reports.gitlab)).toHaveLength(MANY + 1);
    const features = JSON.parse(reports.geojson).features as { properties: { layer: string } }[];
    expect(features.filter(({ properties }) => properties.layer === 'finding')).toHaveLength(MANY);
  });

  test('are as many in SARIF as a platform keeps, and the last result counts the rest', () => {
    const { results } = (JSON.parse(reports['sarif-platform']) as SarifLog).runs[0];
    expect(results).toHaveLength(5000);
    expect(results.at(-1)).toMatchObject({ ruleId: 'more-findings', level: 'error' });
    // One more than the findings is told: the gap.
    expect(results.at(-1)?.message.text).toMatch(new RegExp(`^${MANY + 1 - 4999} more findings of this check are not`));
  });

  test('are ten annotations, and a notice that counts the rest', () => {
    const lines = reports.github.split('\n').slice(0, -1);
    expect(lines).toHaveLength(11);
    expect(lines.at(-1)).toContain(`${MANY + 1 - 10} stops more than a workflow shows`);
  });

  test('fit a comment and a summary, which count what they leave out', () => {
    expect(reports.markdown.length).toBeLessThanOrEqual(60_000);
    expect(Buffer.byteLength(reports['markdown-summary'])).toBeLessThanOrEqual(1024 * 1024);
    for (const format of ['markdown', 'markdown-summary'] as const) {
      const text = reports[format];
      expect(text).toContain(`${MANY} stops, 1 reason for what was not assessed, in 1 plan`);
      const rows = text.match(/^\| \*\*stop\*\* \| point-above-height-limit \|/gm)?.length ?? 0;
      expect(rows).toBeGreaterThan(50);
      expect(text).toContain(`${MANY - rows} more are not shown here`);
      // What was not assessed has its place, however many findings there are, and so have the margins and the caution.
      expect(text).toContain('the plan gives no visibility');
      expect(text).toContain('Waywarden advises');
    }
    expect(reports['markdown-summary'].length).toBeGreaterThan(reports.markdown.length);
  });

  test('are one test case that lists some and counts the rest', () => {
    expect(reports.junit.match(/<testcase name="point-above-height-limit"/g)).toHaveLength(1);
    expect(reports.junit).toContain(`and ${MANY - 200} more</failure>`);
  });

  test('are one group of the report for people, which counts the rest', () => {
    expect(reports.text).toContain(`and ${MANY - 12} more`);
    expect(reports.text).toContain(`${MANY} stops in`);
  });
});

describe('many plans in one comment', () => {
  test('each has at least its count', async () => {
    const one = readProject('samples/first.mission.yaml').replaceAll('60 m AGL', '130 m AGL');
    const files = Object.fromEntries(Array.from({ length: 400 }, (_, i) => [`plan-${i}.mission.yaml`, one]));
    const folder = temporaryFolder(files);
    const { out } = await call(['check', '--now', EVENING, '--format', 'markdown', folder], {
      prepare: async (...given) => {
        const prepared = await prepare(...given);
        return { ...prepared, input: { ...prepared.input, rules: HIGH } };
      },
    });
    expect(out.length).toBeLessThanOrEqual(60_000);
    expect(out).toContain('800 stops, nothing not assessed, in 400 plans');
    const rows = out.match(/^\| \S*plan-\d+\.mission\.yaml \|/gm)?.length ?? 0;
    expect(rows).toBeGreaterThan(100);
    expect(out).toContain(`${400 - rows} more are not shown here`);
    const folds = out.match(/<summary><b>stop<\/b>/g)?.length ?? 0;
    expect(folds).toBeGreaterThan(10);
    expect(out).toContain(`${400 - folds} more plans have no part of their own here for want of room`);
  }, 120_000);
});
