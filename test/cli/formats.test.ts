import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { sarifToMarkdown } from '@security-alert/sarif-to-markdown';
import { Ajv } from 'ajv';
import { beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { FORMATS, type Format } from '../../server/src/cli/arguments.ts';
import { COMMENT_MARK } from '../../server/src/cli/formats/markdown.ts';
import type { Machine } from '../../server/src/cli/machine.ts';
import { type Host, prepare } from '../../server/src/host/prepare.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import { call, EVENING } from '../support/command-line.ts';
import { cellsOf, renderedMarkdown } from '../support/markup.ts';
import { readProject } from '../support/project.ts';
import { hasReferenceData, inReferenceData, NEEDS_REFERENCE_DATA } from '../support/reference-data.ts';
import type { SarifLog, SarifResult } from '../support/sarif.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const PLAN = 'test/cli/golden/ferry.mission.yaml';
/** Four days before the flight: the weather is not yet due. */
const EARLY = '2027-06-08T12:00Z';

/** A few rules, so that a new one does not change the golden reports. */
const FEW = new Set([
  'point-above-height-limit',
  'leg-above-height-limit',
  'zone-entered-unauthorised',
  'name-repeated',
  'plan-reused',
  'ground-permission-missing',
  'obstacle-struck',
  'visibility-below-minimum',
]);

const byFewRules: Machine<Host>['prepare'] = async (...given) => {
  const prepared = await prepare(...given);
  return { ...prepared, input: { ...prepared.input, rules: RULES.filter(({ id }) => FEW.has(id)) } };
};

type Reports = Readonly<Record<Format, string>>;

/** One run in all formats at once. */
const reportsOf = async (words: readonly string[], given: Parameters<typeof call>[1] = {}): Promise<Reports> => {
  const folder = temporaryFolder();
  const formats = FORMATS.flatMap((format) => ['--format', `${format}=${join(folder, format)}`]);
  await call(['check', ...formats, ...words], given);
  const reports = FORMATS.map((format) => [format, readFileSync(join(folder, format), 'utf8')]);
  // A baseline counts paths from its own folder, which is a new one in each run.
  const { out } = await call(['check', '--format', 'baseline', ...words], given);
  return { ...Object.fromEntries(reports), baseline: out } as Reports;
};

const sarifOf = (text: string): SarifLog['runs'][0] => (JSON.parse(text) as SarifLog).runs[0];

let golden: Reports;
let samples: Reports;

beforeAll(async () => {
  golden = await reportsOf(['--now', EARLY, PLAN], { prepare: byFewRules });
  samples = await reportsOf(['--now', EVENING, 'samples', 'samples/gone.mission.yaml']);
}, 120_000);

describe('the golden reports of one plan', () => {
  test.each(FORMATS)('%s', async (format) => {
    // The texts of the rules are held elsewhere; a baseline of nothing but a plan to come is empty of stops.
    const text = format.startsWith('sarif')
      ? golden[format].replace(/"rules": \[[\s\S]*?\n {10}\]/, '"rules": []')
      : golden[format];
    await expect(text).toMatchFileSnapshot(`golden/report.${format}.txt`);
  });

  test('there is one for each format, and no other', () => {
    const files = readdirSync(new URL('golden', import.meta.url)).filter((name) => name.startsWith('report.'));
    expect(files.sort()).toEqual(FORMATS.map((format) => `report.${format}.txt`).sort());
  });

  test('a second run gives the same bytes', async () => {
    expect(await reportsOf(['--now', EARLY, PLAN], { prepare: byFewRules })).toEqual(golden);
  });
});

const SCHEMA = 'schemas/sarif-schema-2.1.0.json';

/** A schema of draft 4 that uses nothing which draft 7 reads otherwise, but for the name of its `id`. */
const sarifValidator = () => {
  const { id: _id, $schema: _draft, ...schema } = JSON.parse(readFileSync(inReferenceData(SCHEMA), 'utf8'));
  const uri = (text: string): boolean => /^(?:[A-Za-z0-9\-._~!$&'()*+,;=:@/?#[\]]|%[0-9A-F]{2})*$/.test(text);
  const formats = { 'date-time': /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d/, uri: /^[a-z][a-z0-9+.-]*:/, 'uri-reference': uri };
  return new Ajv({ strict: false, allErrors: true, formats }).compile(schema);
};

describe.skipIf(!hasReferenceData(SCHEMA))(`the SARIF schema with errata 01 (${NEEDS_REFERENCE_DATA})`, () => {
  test.each(['sarif', 'sarif-platform'] as const)('takes %s', (format) => {
    const validate = sarifValidator();
    for (const text of [golden[format], samples[format]]) {
      validate(JSON.parse(text));
      expect(validate.errors ?? []).toEqual([]);
    }
  });

  test('refuses what is no SARIF, so that the test above says something', () => {
    const validate = sarifValidator();
    const log = JSON.parse(golden.sarif);
    log.runs[0].results[0].level = 'stop';
    expect(validate(log)).toBe(false);
  });
});

describe('SARIF in full', () => {
  const results = (): readonly SarifResult[] => sarifOf(golden.sarif).results;

  test('keeps what was accepted or lifted, with who said why', () => {
    const settled = results().filter(({ suppressions }) => suppressions !== undefined);
    const said = settled.map(({ ruleId, suppressions }) => [ruleId, suppressions?.[0]?.justification]);
    expect(said).toEqual([
      ['ground-permission-missing', 'accepted because leave by telephone, @trust'],
      ['zone-entered-unauthorised', 'lifted by authorisation MM-2027-031'],
    ]);
    for (const { suppressions } of settled)
      expect(suppressions).toMatchObject([{ kind: 'inSource', status: 'accepted' }]);
  });

  test('tells what was not assessed as open, which has no level', () => {
    const open = results().filter(({ kind }) => kind === 'open');
    expect(open.map(({ ruleId }) => ruleId)).toEqual(['visibility-below-minimum', 'obstacle-struck']);
    for (const { level } of open) expect(level).toBe('none');
  });

  test('a fix in it does to the text what the quick fix does', () => {
    const fixed = results().flatMap(({ fixes = [] }) => fixes);
    expect(fixed.map(({ description }) => description.text)).toContain('Lower bow to 121 m AGL (was 130 m AGL)');
    const lines = readProject(PLAN).split('\n');
    for (const { artifactChanges } of fixed) {
      for (const { deletedRegion } of artifactChanges.flatMap(({ replacements }) => replacements)) {
        const { startLine, startColumn, endLine, endColumn } = deletedRegion;
        expect(startLine).toBe(endLine);
        expect(lines[startLine - 1]?.slice(startColumn - 1, endColumn - 1)).toMatch(/^(130|130 m AGL|bow)$/);
      }
    }
  });

  test('an independent reader finds in it what stands and what was settled', () => {
    const [read] = sarifToMarkdown({ title: 't', owner: 'o', repo: 'r', branch: 'b', sourceRoot: '' })(
      JSON.parse(golden.sarif),
    );
    expect(read?.hasMessages).toBe(true);
    for (const { ruleId, locations } of results()) {
      expect(read?.body).toContain(`[${ruleId}]`);
      const line = locations[0]?.physicalLocation.region.startLine;
      expect(read?.body).toContain(`/${PLAN}#L${line}`);
    }
  });
});

describe('SARIF for platforms', () => {
  const run = () => sarifOf(samples['sarif-platform']);

  test('has what platforms require of each rule, none of it empty', () => {
    const { rules } = run().tool.driver;
    expect(rules.length).toBeGreaterThan(15);
    for (const { id, shortDescription, fullDescription, help } of rules) {
      for (const text of [id, shortDescription.text, fullDescription.text, help.text, help.markdown])
        expect(text.trim()).not.toBe('');
    }
  });

  test('points to the descriptor of each result', () => {
    const { results, tool } = run();
    for (const { ruleId, ruleIndex } of results) expect(tool.driver.rules[ruleIndex]?.id).toBe(ruleId);
  });

  test('has nothing that was accepted, lifted or is not yet due', () => {
    const text = golden['sarif-platform'];
    expect(text).not.toContain('suppressions');
    expect(sarifOf(text).results.map(({ ruleId }) => ruleId)).toEqual([
      'point-above-height-limit',
      'not-assessed',
      'plan-reused',
      'name-repeated',
    ]);
  });

  test('has one fingerprint for each result, which stays when lines move', async () => {
    const prints = (text: string): readonly (string | undefined)[] =>
      sarifOf(text).results.map(({ partialFingerprints }) => partialFingerprints?.['primaryLocationLineHash']);
    const all = prints(samples['sarif-platform']);
    expect(new Set(all).size).toBe(all.length);
    const moved = temporaryFolder();
    const input = `# one\n# two\n${readProject(PLAN)}`;
    const words = ['check', '--now', EARLY, '--format', `sarif-platform=${join(moved, 'x')}`, '-', '--name', PLAN];
    await call(words, { input, prepare: byFewRules });
    const after = readFileSync(join(moved, 'x'), 'utf8');
    expect(prints(after)).toEqual(prints(golden['sarif-platform']));
    const line = (text: string) => sarifOf(text).results[0]?.locations[0]?.physicalLocation.region.startLine ?? 0;
    expect(line(after)).toBe(line(golden['sarif-platform']) + 2);
  });

  test('has regions of one line, and paths from the top of the checkout', async () => {
    for (const { locations } of run().results) {
      const { region, artifactLocation } = locations[0]?.physicalLocation ?? {};
      expect(region?.endLine ?? region?.startLine).toBe(region?.startLine);
      expect(artifactLocation?.uri).toMatch(/^samples\//);
    }
    const { out } = await call(['check', '--now', EARLY, '--format', 'sarif-platform', PLAN], {
      environment: { GITHUB_WORKSPACE: 'test' },
      prepare: byFewRules,
    });
    for (const { locations } of sarifOf(out).results)
      expect(locations[0]?.physicalLocation.artifactLocation.uri).toBe('cli/golden/ferry.mission.yaml');
  });

  test('says that the check was not complete', () => {
    const [invocation] = run().invocations;
    expect(invocation).toMatchObject({ executionSuccessful: false, exitCode: 2 });
    expect(invocation.toolExecutionNotifications[0]?.message.text).toContain('not opened samples/gone.mission.yaml');
    expect(run().results[0]).toMatchObject({ ruleId: 'not-opened', level: 'error' });
  });
});

describe('JUnit XML', () => {
  test.skipIf(!hasReferenceData('schemas/JUnit.xsd'))(`is valid by its schema (${NEEDS_REFERENCE_DATA})`, async () => {
    const schema = { fileName: 'JUnit.xsd', contents: readFileSync(inReferenceData('schemas/JUnit.xsd'), 'utf8') };
    for (const contents of [golden.junit, samples.junit]) {
      const { errors } = await validateXML({ xml: [{ fileName: 'report.xml', contents }], schema: [schema] });
      expect(errors).toEqual([]);
    }
    const broken = golden.junit.replace('errors="0"', 'errors="none"');
    const { valid } = await validateXML({ xml: [{ fileName: 'report.xml', contents: broken }], schema: [schema] });
    expect(valid).toBe(false);
  });

  test('counts what is in it', () => {
    for (const suite of samples.junit.split('<testsuite ').slice(1)) {
      const number = (name: string): number => Number(new RegExp(`${name}="(\\d+)"`).exec(suite)?.[1]);
      const many = (tag: string): number => suite.match(new RegExp(`<${tag} `, 'g'))?.length ?? 0;
      expect(number('tests')).toBe(many('testcase'));
      expect(number('failures')).toBe(many('failure'));
      expect(number('errors')).toBe(many('error'));
      expect(number('skipped')).toBe(many('skipped'));
    }
  });

  test('fails by the same gate as the check, and is skipped below it or before it is due', () => {
    const outcome = (rule: string): string =>
      new RegExp(`name="${rule}"[^>]*?(?:/>|>\\s*<(\\w+) message="([^"]*)")`).exec(golden.junit)?.slice(1).join(': ') ??
      '';
    expect(outcome('point-above-height-limit')).toMatch(/^failure: bow is 130 m above ground/);
    expect(outcome('obstacle-struck')).toMatch(/^failure: not assessed: the plan says nothing about obstacles/);
    expect(outcome('name-repeated')).toMatch(/^skipped: below the gate, which is stop: /);
    expect(outcome('visibility-below-minimum')).toMatch(/^skipped: not yet due: not assessed: due from 2027-/);
    expect(outcome('zone-entered-unauthorised')).toBe(': ');
  });

  test('a path that cannot be opened is an error', () => {
    expect(samples.junit).toMatch(
      /classname="samples\/gone.mission.yaml" time="0">\s*<error message="there is no such file/,
    );
  });
});

describe('annotations of a workflow', () => {
  test('are the ten worst of a kind, of which the last counts the rest', () => {
    const lines = samples.github.split('\n').slice(0, -1);
    const of = (name: string): number => lines.filter((line) => line.startsWith(`::${name} `)).length;
    expect(of('error')).toBe(10);
    expect(of('warning')).toBeLessThanOrEqual(10);
    expect(of('notice')).toBeLessThanOrEqual(10);
    expect(lines[0]).toContain('not opened: there is no such file');
    const { plans } = JSON.parse(samples.json) as { plans: { findings: { level: string }[] }[] };
    const stops = plans.flatMap(({ findings }) => findings).filter(({ level }) => level === 'stop').length;
    const gaps = sarifOf(samples['sarif-platform']).results.filter(
      ({ ruleId, level }) => ruleId === 'not-assessed' && level === 'error',
    );
    // One of the ten errors is the path that could not be opened.
    expect(lines.at(-1)).toContain(`${stops + gaps.length - 9} stops`);
  });

  test('are all there where there are few', () => {
    expect(golden.github).not.toContain('more than a workflow shows');
    expect(golden.github.match(/^::/gm)).toHaveLength(5);
  });
});

describe('a code quality report', () => {
  test('has for each entry a fingerprint of its own, a known severity and a path', () => {
    const entries = JSON.parse(samples.gitlab) as {
      fingerprint: string;
      severity: string;
      location: { path: string; lines: { begin: number } };
    }[];
    expect(new Set(entries.map(({ fingerprint }) => fingerprint)).size).toBe(entries.length);
    for (const { severity, location } of entries) {
      expect(['info', 'major', 'critical', 'blocker']).toContain(severity);
      expect(location.path).toMatch(/^samples\//);
      expect(location.lines.begin).toBeGreaterThan(0);
    }
    expect(entries[0]).toMatchObject({
      severity: 'blocker',
      description: 'not opened: there is no such file or folder',
    });
  });
});

describe('Markdown', () => {
  test('begins with the hidden mark, the worst level and the counts', () => {
    expect(golden.markdown.startsWith(`${COMMENT_MARK}\n## Mission plans: stop\n\n1 stop, 2 cautions, 2 reasons`)).toBe(
      true,
    );
  });

  test('has in its tables what the report for machines has', () => {
    const { plans } = JSON.parse(golden.json) as {
      plans: { findings: { message: string }[]; gaps: { reason: string }[]; margins: { subject: string }[] }[];
    };
    const cells = cellsOf(renderedMarkdown(golden.markdown)).map((cell) => cell.replaceAll('\u200b', ''));
    for (const { findings, gaps, margins } of plans) {
      for (const { message } of findings) expect(cells).toContain(message);
      for (const { reason } of gaps) expect(cells.some((cell) => cell.includes(reason))).toBe(true);
      for (const { subject } of margins.slice(0, 5)) expect(cells).toContain(subject);
    }
  });

  test('holds no time of its own, so that a comment changes only with the matter', async () => {
    const later = await reportsOf(['--now', '2027-06-08T13:00Z', PLAN], { prepare: byFewRules });
    expect(later.markdown).toBe(golden.markdown);
  });

  test('tells flights that were flown apart from those to come', async () => {
    const input = readProject(PLAN)
      .replaceAll('2027-06-12', '2027-06-01')
      .replace('mission: 1', 'mission: 1\nflown: 2027-06-01');
    const { out } = await call(['check', '--now', EARLY, '--format', 'markdown', '-', '--name', PLAN], { input });
    expect(out).toContain(
      '## Mission plans: flown\n\nnothing not assessed, in 0 plans. 1 plan of flights that were flown',
    );
    expect(out).toMatch(/\| stop \(flown\) \|/);
  });

  test('draws a map that can be read, and ends every fold', () => {
    const fence = /```geojson\n(.*)\n```/.exec(golden.markdown)?.[1] ?? '';
    expect(JSON.parse(fence)).toMatchObject({ type: 'FeatureCollection' });
    for (const text of [golden.markdown, samples.markdown, samples['markdown-summary']])
      expect(text.match(/<details/g)?.length).toBe(text.match(/<\/details>/g)?.length);
  });
});

describe('writing', () => {
  test('a report takes the place of the earlier one in one step and leaves nothing beside it', async () => {
    const folder = temporaryFolder({ 'report.json': 'old' });
    await call(['check', '--now', EARLY, '--format', `json=${folder}/report.json`, PLAN], { prepare: byFewRules });
    expect(readdirSync(folder)).toEqual(['report.json']);
    expect(JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8'))).toMatchObject({ format: 1 });
  });

  test('one that fails leaves the earlier report, and the others are written', async () => {
    const folder = temporaryFolder({ 'folder/keep': 'old' });
    const words = ['--format', `json=${folder}/folder`, '--format', `gnu=${folder}/report.gnu`, '--format', 'text'];
    const { code, out, err } = await call(['check', '--now', EARLY, ...words, PLAN], { prepare: byFewRules });
    expect(code).toBe(2);
    expect(err).toContain('could not be written');
    expect(out).toContain('point-above-height-limit');
    expect(readFileSync(`${folder}/report.gnu`, 'utf8')).toBe(golden.gnu);
    expect(readdirSync(folder).sort()).toEqual(['folder', 'report.gnu']);
  });

  test.skipIf(!existsSync('/dev/stdout'))(
    'a device is written to and not replaced (skipped without /dev)',
    async () => {
      const { code, err } = await call(['check', '--now', EARLY, '--format', 'json=/dev/null', PLAN], {
        prepare: byFewRules,
      });
      expect({ code, err }).toEqual({ code: 1, err: '' });
      writeFileSync('/dev/null', 'still a device');
      expect(readFileSync('/dev/null', 'utf8')).toBe('');
    },
  );

  test('formats may stand in a list, and a comma in the name of a file is no end of it', async () => {
    const folder = temporaryFolder();
    const { out } = await call(
      ['check', '--now', EARLY, '--format', `gnu,json=${folder}/a,b.json,junit=${folder}/c.xml`, PLAN],
      {
        prepare: byFewRules,
      },
    );
    expect(out).toBe(golden.gnu);
    expect(readdirSync(folder).sort()).toEqual(['a,b.json', 'c.xml']);
  });
});

describe('progress', () => {
  test('is told on the error output where somebody watches, and taken away at the end', async () => {
    const { err, out } = await call(['check', '--now', EVENING, '--format', 'gnu', 'samples'], { watched: true });
    expect(err).toMatch(/^\r\u001b\[K1 of \d+ {2}/);
    expect(err.endsWith('\r\u001b[K')).toBe(true);
    expect(out).not.toContain('\r');
  });
});
