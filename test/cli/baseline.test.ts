import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeEach, describe, expect, test } from 'vitest';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import { call } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** Enough of a plan to have a stop, cautions and gaps. */
const plan = (day: string, more = ''): string => `mission: 1
title: Old survey
purpose: survey for a client
country: US
window: { from: ${day} 08:30 -07:00, until: ${day} 09:00 -07:00 }
site:
  take-off: { lat: 47.46095, lon: -120.60660, elevation: 411 m }
route:
  - take-off: home
  - point: east
    at: 47.46200, -120.60480
    altitude: 130 m AGL
  - point: east
    at: 47.46300, -120.60480
    altitude: 60 m AGL
${more}  - land: home
`;

const NOW = '2027-06-12T12:00Z';
const TO_COME = '2027-06-20';
const OVER = '2027-06-01';

let folder = '';
let file = '';

const put = (name: string, text: string): void => writeFileSync(join(folder, name), text);
const check = (...words: readonly string[]) => call(['check', '--now', NOW, ...words, folder]);
const json = async (...words: readonly string[]): Promise<JsonReport> =>
  JSON.parse((await check('--format', 'json', ...words)).out) as JsonReport;
const writeBaseline = () => check('--format', `baseline=${file}`);

beforeEach(() => {
  folder = temporaryFolder();
  file = join(folder, 'known.json');
});

describe('a baseline', () => {
  test('lets a plan of the past through, with all that was known of it, and the report still says so', async () => {
    put('a.mission.yaml', plan(OVER));
    await writeBaseline();
    expect((await check()).code).toBe(1);
    const { code, out } = await check('--baseline', file);
    expect(code).toBe(0);
    expect(out).toMatch(/130 m above ground.* \(in the baseline\)/);
    const [before] = (await json()).plans;
    const [after] = (await json('--baseline', file)).plans;
    expect(after?.worst).toBe('stop');
    expect(after?.findings.map(({ inBaseline: _, ...finding }) => finding)).toEqual(before?.findings);
    expect(after?.findings.every(({ inBaseline }) => inBaseline === true)).toBe(true);
  });

  test('never hides a stop of a flight still to come, neither a finding nor a gap', async () => {
    put('a.mission.yaml', plan(TO_COME));
    const { err } = await writeBaseline();
    expect(err).toMatch(/^waywarden: \d+ entries not put into the baseline: a stop of a flight still to come/);
    const { code, out } = await check('--baseline', file);
    expect(code).toBe(1);
    expect(out).not.toMatch(/130 m above ground.*in the baseline/);
    // Written by hand, it changes nothing either.
    const report = await json();
    const stop = report.plans[0]?.findings.find(({ rule }) => rule === 'point-above-height-limit');
    const entry = { plan: 'a.mission.yaml', what: 'finding', rule: stop?.rule, subject: stop?.subject, level: 'stop' };
    const entries = [{ ...entry, identity: stop?.fingerprint }];
    writeFileSync(file, JSON.stringify({ format: 1, entries }));
    const forged = await json('--baseline', file);
    expect(forged.plans[0]?.findings.some(({ inBaseline }) => inBaseline === true)).toBe(false);
  });

  test('lets the cautions of a flight to come through a gate of cautions, and a new one not', async () => {
    const words = ['--gate', 'caution', '--baseline', file];
    put('a.mission.yaml', plan(TO_COME));
    await writeBaseline();
    const known = (await json(...words)).plans[0]?.findings.filter(({ level }) => level !== 'stop') ?? [];
    expect(known.map(({ rule }) => rule)).toContain('name-repeated');
    expect(known.every(({ inBaseline }) => inBaseline === true)).toBe(true);
    put(
      'a.mission.yaml',
      plan(TO_COME, '  - point: west\n    at: 47.46300, -120.60900\n    altitude: 60 m AGL\n'.repeat(2)),
    );
    const after = (await json(...words)).plans[0]?.findings.filter(({ rule }) => rule === 'name-repeated') ?? [];
    expect(after.map(({ subject, inBaseline }) => [subject, inBaseline === true])).toEqual([
      ['point east', true],
      ['point west', false],
    ]);
  });

  test('knows a finding by its identity: lines may move and values change', async () => {
    put('a.mission.yaml', plan(OVER));
    await writeBaseline();
    put('a.mission.yaml', `# one\n# two\n${plan(OVER).replace('130 m', '140 m')}`);
    expect((await check('--baseline', file)).code).toBe(0);
  });

  test('does not cover what has become worse than its level', async () => {
    put('a.mission.yaml', plan(OVER));
    await writeBaseline();
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replaceAll('"level":"stop"', '"level":"caution"'));
    expect((await check('--baseline', file)).code).toBe(1);
  });

  test('tells its stale entries, also those of a plan that is gone, and not those of which nothing is known', async () => {
    put('a.mission.yaml', plan(OVER));
    put('b.mission.yaml', plan(OVER));
    put('c.mission.yaml', plan(OVER));
    await writeBaseline();
    put('a.mission.yaml', plan(OVER).replace('130 m AGL', '60 m AGL'));
    rmSync(join(folder, 'b.mission.yaml'));
    const { out, err } = await call([
      'check',
      '--now',
      NOW,
      '--format',
      'json',
      '--baseline',
      file,
      join(folder, 'a.mission.yaml'),
    ]);
    const { baseline } = JSON.parse(out) as JsonReport;
    const stale = baseline?.stale ?? [];
    expect(stale.filter(({ plan }) => plan === 'a.mission.yaml').map(({ rule }) => rule)).toEqual([
      'point-above-height-limit',
    ]);
    expect(new Set(stale.map(({ plan }) => plan))).toEqual(new Set(['a.mission.yaml', 'b.mission.yaml']));
    expect(baseline?.unknown).toBe(stale.filter(({ plan }) => plan === 'b.mission.yaml').length);
    expect(err).toContain('the baseline has an entry that is found no more: a.mission.yaml, point-above-height-limit');
  });

  test('is sorted, without a time, and the same wherever it is written from', async () => {
    mkdirSync(join(folder, 'z'));
    put('b.mission.yaml', plan(OVER));
    put('z/a.mission.yaml', plan(OVER));
    await writeBaseline();
    const text = readFileSync(file, 'utf8');
    const { entries } = JSON.parse(text) as { entries: { plan: string; rule: string }[] };
    const order = entries.map(({ plan, rule }) => `${plan} ${rule}`);
    expect(order).toEqual([...order].sort());
    expect(new Set(entries.map(({ plan }) => plan))).toEqual(new Set(['b.mission.yaml', 'z/a.mission.yaml']));
    await call(['check', '--now', '2027-06-12T13:00Z', '--format', `baseline=${file}`, folder]);
    expect(readFileSync(file, 'utf8')).toBe(text);
    // An entry a line, for merging.
    expect(text.split('\n').filter((line) => line.includes('"plan"'))).toHaveLength(entries.length);
  });

  test.each([
    ['is missing', undefined, 'cannot be read: there is no such file or folder'],
    ['is no JSON', '<<<<<<< HEAD', 'is no JSON'],
    ['has another format', '{"format":2,"entries":[]}', 'does not say "format": 1'],
    ['has no entries', '{"format":1}', 'has no list of entries'],
    ['has half an entry', '{"format":1,"entries":[{"plan":"a"}]}', 'has an entry that cannot be read, number 1'],
    ['is null', 'null', 'does not say "format": 1'],
  ])('that %s is an error', async (_, text, said) => {
    put('a.mission.yaml', plan(OVER));
    if (text !== undefined) writeFileSync(file, text);
    const { code, out, err } = await check('--baseline', file);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(said);
  });

  test('is told to machines as the schema of the report says', async () => {
    put('a.mission.yaml', plan(OVER));
    await writeBaseline();
    put('a.mission.yaml', plan(OVER).replace('130 m AGL', '60 m AGL'));
    const report = await json('--baseline', file);
    expect(report.baseline?.stale.length).toBeGreaterThan(0);
    const schema = JSON.parse(readProject('schemas/report.schema.json')) as object;
    const validate = new Ajv2020({ strict: true, allErrors: true, formats: { 'date-time': true } }).compile(schema);
    validate(report);
    expect(validate.errors ?? []).toEqual([]);
  });

  test('is told in SARIF as what was there before', async () => {
    put('a.mission.yaml', plan(OVER));
    await writeBaseline();
    const { out } = await check('--format', 'sarif', '--baseline', file);
    const results = (JSON.parse(out) as { runs: { results: { kind: string; baselineState?: string }[] }[] }).runs[0]
      ?.results;
    const found = results?.filter(({ kind }) => kind === 'fail') ?? [];
    expect(found.length).toBeGreaterThan(0);
    for (const { baselineState } of found) expect(baselineState).toBe('unchanged');
  });
});
