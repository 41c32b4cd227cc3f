import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, test } from 'vitest';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import { prepare } from '../../server/src/host/prepare.ts';
import { MATRIX_STATES } from '../../server/src/review/outcome.ts';
import { RULE_SET_IDS } from '../../server/src/rulebook/rule-set.ts';
import { instant } from '../../server/src/units/frames.ts';
import { call, EVENING, EVENING_BEFORE } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

interface Node {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, Node>>;
  readonly additionalProperties?: boolean;
  readonly enum?: readonly unknown[];
}

const SCHEMA = JSON.parse(readProject('schemas/report.schema.json')) as Node;
// The pattern beside it holds times to one spelling; ajv has no formats of its own.
const validate = new Ajv2020({ strict: true, allErrors: true, formats: { 'date-time': true } }).compile(SCHEMA);

const report = async (words: readonly string[], given: Parameters<typeof call>[1] = {}): Promise<JsonReport> =>
  JSON.parse((await call(['check', '--format', 'json', ...words], given)).out) as JsonReport;

const faults = (value: unknown): readonly string[] => {
  validate(value);
  return (validate.errors ?? []).map(
    (error) => `${error.instancePath} ${error.message ?? ''} ${JSON.stringify(error.params)}`,
  );
};

const FIRST = readProject('samples/first.mission.yaml');

/** Plans that are hard on a report: broken, empty, with strange texts, with everything that can be told. */
const AWKWARD: Readonly<Record<string, string | Uint8Array>> = {
  'an empty file': '',
  'only a comment': '# nothing yet\n',
  'a list': '- 1\n- 2\n',
  'a bare text': 'hello\n',
  'an unclosed bracket': FIRST.replace('airspace: [world/lakes-zones.geojson]', 'airspace: [world/lakes-zones.geojson'),
  'a binary': new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0, 1, 2, 3, 0xff, 0xfe, 0x0a, 0x80]),
  'UTF-16 text': new Uint8Array(Buffer.from(`\ufeff${FIRST}`, 'utf16le')),
  'deep nesting': `${'['.repeat(3000)}\n`,
  'no country that is known': FIRST.replace('country: US', 'country: ZZ'),
  'no purpose': FIRST.replace(/^purpose:.*\n/m, ''),
  'no window': FIRST.replace(/^window:.*\n/m, ''),
  'no terrain': FIRST.replace(/^terrain:.*\n/m, ''),
  'names with control characters': FIRST.replaceAll('reed-west', '"\\u001b[31mred\\u202e\\u009b"'),
  'a number too large': FIRST.replaceAll('60 m AGL', '1e300 m AGL'),
  'a title of a single surrogate': FIRST.replace('Reed bed, south shore', '"\\ud800"'),
  'a flight of the past': FIRST.replaceAll('2027-06-12', '2027-05-12'),
  'a flight that was flown': `${FIRST.replaceAll('2027-06-12', '2027-05-12')}flown: 2027-05-12\n`,
};

describe('the schema of the JSON report', () => {
  test('describes every property, and allows no other', () => {
    const silent: string[] = [];
    const look = (node: Node, path: string): void => {
      if (node.properties !== undefined && node.additionalProperties !== false) silent.push(`${path} allows others`);
      for (const [key, child] of Object.entries(node.properties ?? {})) {
        const there = `${path}.${key}`;
        const target = child.$ref === undefined ? child : SCHEMA.$defs?.[child.$ref.slice('#/$defs/'.length)];
        if (target === undefined) silent.push(`${there} leads nowhere`);
        if ((child.description ?? target?.description ?? '') === '') silent.push(there);
        look(child, there);
      }
      if (node.items !== undefined) look(node.items, `${path}[]`);
    };
    look(SCHEMA, 'report');
    for (const [name, node] of Object.entries(SCHEMA.$defs ?? {})) look(node, name);
    expect(silent).toEqual([]);
  });

  test('lists the rule sets and the states of the matrix as the program has them', () => {
    const { plan } = SCHEMA.$defs ?? {};
    expect(plan?.properties?.['ruleSet']?.enum).toEqual([...RULE_SET_IDS, null]);
    expect(plan?.properties?.['matrix']?.items?.properties?.['state']?.enum).toEqual(MATRIX_STATES);
  });

  test('holds for all samples together', async () => {
    expect(faults(await report(['--now', EVENING, 'samples']))).toEqual([]);
  });

  test.each(Object.keys(AWKWARD))('holds for %s', async (name) => {
    const given = { input: AWKWARD[name] ?? '' };
    const made = await report(['-', '--name', 'samples/awkward.mission.yaml'], given);
    expect(faults(made)).toEqual([]);
    expect(made.plans).toHaveLength(1);
    expect(made.plans[0]?.gaps.filter(({ kind }) => kind === 'fault')).toEqual([]);
  });

  test('holds for a run with paths that cannot be opened, and for an empty run', async () => {
    const folder = temporaryFolder();
    const nothing = await report([`${folder}/gone.mission.yaml`]);
    expect(faults(nothing)).toEqual([]);
    expect(nothing.unopened).toHaveLength(1);
    expect(faults(await report([folder, '--allow-empty']))).toEqual([]);
  });

  test('notices a report that is not one', () => {
    expect(faults({})).not.toEqual([]);
    expect(faults({ format: 1 })).not.toEqual([]);
  });
});

describe('what the JSON report says', () => {
  let first: JsonReport['plans'][number];
  let gap: JsonReport['plans'][number];
  let whole: JsonReport;

  beforeAll(async () => {
    whole = await report([
      '--now',
      EVENING,
      'samples/first.mission.yaml',
      'samples/missions/over-the-gap.mission.yaml',
    ]);
    const [one, other] = whole.plans;
    if (one === undefined || other === undefined) throw new Error('two plans were expected');
    first = one;
    gap = other;
  });

  test('the time of checking stands in UTC', () => {
    expect(whole.now).toBe('2027-06-12T01:00:00Z');
  });

  test('totals are the sums of the plans', () => {
    expect(whole.totals).toEqual({ plans: 2, stop: 1, caution: 0, note: 0, accepted: 0, lifted: 0, gaps: 0 });
  });

  test('a range counts lines and columns from 1 and covers exactly the name', () => {
    const [finding] = gap.findings;
    const { start, end } = finding?.range ?? { start: { line: 0, column: 0 }, end: { line: 0, column: 0 } };
    const line = readProject('samples/missions/over-the-gap.mission.yaml').split('\n')[start.line - 1] ?? '';
    expect(line.slice(start.column - 1, end.column - 1)).toBe('little-hob');
  });

  test('measured and limit carry unit and frame, and the limit who set it', () => {
    expect(gap.findings[0]).toMatchObject({
      limit: { value: 121.92, unit: 'm', frame: 'above ground', setBy: '14 CFR 107.51(b)' },
      measured: { unit: 'm', frame: 'above ground' },
    });
    expect(gap.findings[0]?.measured?.value).toBeGreaterThan(121.92);
  });

  test('every rule stands once in the matrix, and checks counts the ones in force', () => {
    const rules = first.matrix.map(({ rule }) => rule);
    expect(new Set(rules).size).toBe(rules.length);
    const aside = first.matrix.filter(({ state }) =>
      ['does-not-apply', 'switched-off', 'out-of-reach'].includes(state),
    );
    expect(first.checks).toBe(rules.length - aside.length);
  });

  test('a related place in another document is named by its path below the working folder', async () => {
    const made = await report(['--now', EVENING, 'samples/missions/many-faults.mission.yaml']);
    const lapsed = made.plans[0]?.findings.find(({ rule }) => rule === 'registration-lapsed');
    expect(lapsed?.related).toEqual([
      expect.objectContaining({ path: 'samples/fleet/dipper-2.aircraft.yaml', message: 'it ends here' }),
    ]);
  });

  test('text that a terminal could obey leaves as an escape, and reads back as it was', async () => {
    const input = FIRST.replaceAll('reed-west', '"\\u009b31mred\\u202e"').replaceAll('60 m AGL', '500 ft AGL');
    const { out } = await call(
      ['check', '-', '--name', 'samples/a.mission.yaml', '--now', EVENING, '--format', 'json'],
      {
        input,
      },
    );
    expect(out).not.toMatch(/[\u007f-\u009f\u202a-\u202e]/);
    const read = JSON.parse(out) as JsonReport;
    expect(read.plans[0]?.findings.map(({ subject }) => subject)).toContain('point \u009b31mred\u202e');
  });
});

describe('a gap that is not yet due', () => {
  const due = instant(EVENING_BEFORE + 6 * 3600 * 1000);
  /** Ground that exists only from a time on, as the day's data do. */
  const withTerrainDue: typeof prepare = async (...given) => {
    const prepared = await prepare(...given);
    const { input } = prepared;
    const terrain = { missing: 'the ground of the day is not published yet', due };
    return { ...prepared, input: { ...input, world: { ...input.world, terrain } } };
  };
  const words = ['check', 'samples/first.mission.yaml'];

  test('is listed with its time and does not reach the gate before it', async () => {
    const { code, out } = await call(words, { prepare: withTerrainDue });
    expect(out).toContain('due from 2027-06-12T07:00:00Z: the ground of the day is not published yet');
    expect(code).toBe(0);
    const made = await report(['samples/first.mission.yaml'], { prepare: withTerrainDue });
    expect(faults(made)).toEqual([]);
    expect(made.plans[0]).toMatchObject({ complete: false, worst: null });
    expect(new Set(made.plans[0]?.gaps.map(({ kind }) => kind))).toEqual(new Set(['not-yet']));
    expect(made.plans[0]?.gaps[0]?.due).toBe('2027-06-12T07:00:00Z');
  });

  test('counts with --all-due', async () => {
    const { code, out } = await call([...words, '--all-due'], { prepare: withTerrainDue });
    expect(code).toBe(1);
    expect(out).not.toContain('due from');
  });

  test('counts once its time has come', async () => {
    const { code } = await call(words, { prepare: withTerrainDue, now: due });
    expect(code).toBe(1);
  });
});
