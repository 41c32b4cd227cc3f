import { describe, expect, test } from 'vitest';
import { FORMATS } from '../../server/src/cli/arguments.ts';
import { CAUTION } from '../../server/src/review/tell.ts';
import { OUT_OF_REACH } from '../../server/src/rulebook/out-of-reach.ts';
import { QUESTIONS } from '../../server/src/rulebook/rule.ts';
import { RULE_SET_IDS } from '../../server/src/rulebook/rule-set.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import { call } from '../support/command-line.ts';

const refused = async (...words: readonly string[]): Promise<string> => {
  const { code, out, err } = await call(words);
  expect(code).toBe(2);
  expect(out).toBe('');
  expect(err).toMatch(/^waywarden: .*\n$/s);
  return err.slice('waywarden: '.length, -1);
};

describe('a call that cannot be understood ends with 2 and says why on the error output', () => {
  test.each([
    [['chek'], 'there is no verb "chek"; see waywarden --help'],
    [['check', '--gat', 'stop'], 'there is no flag "--gat" here; see waywarden --help'],
    [['check', '-v'], 'there is no flag "-v" here; see waywarden --help'],
    [['check', '--gate', 'high'], 'the gate is stop, caution or note, not "high"'],
    [['check', '--gate'], '--gate needs a value'],
    [['check', '--gate='], '--gate needs a value'],
    [['check', '--gate', 'stop', '--gate', 'note'], '--gate was given more than once'],
    [['check', '--all-due=yes'], '--all-due takes no value'],
    [['check', '--format', 'xml'], `there is no format "xml"; there are ${FORMATS.join(', ')}`],
    [['check', '--format', 'gnu,xml'], `there is no format "gnu,xml"; there are ${FORMATS.join(', ')}`],
    [['check', '--format', 'json='], '--format json= names no file'],
    [['check', '--format', 'json=a', '--format', 'text=a'], 'two formats would be written to one file'],
    [
      ['check', '--format', 'json', '--format', 'text'],
      'only one format can go to standard output; give the others a file: --format json=report.json',
    ],
    [['check', '--now', 'noon'], '--now takes a time with an offset, such as 2026-06-14T06:00-07:00, not "noon"'],
    [
      ['check', '--now', '2027-06-12T06:00'],
      '--now takes a time with an offset, such as 2026-06-14T06:00-07:00, not "2027-06-12T06:00"',
    ],
    [['check', '--baseline', 'x'], 'the baseline "x" cannot be read: there is no such file or folder'],
    [['check', '--changed-since', '--all'], '--changed-since: "--all" is no name of a version'],
    [['tell', 'a', 'b'], 'tell takes one rule'],
    [['rules', 'x'], 'rules takes no names; tell RULE explains one'],
    [['rules', '--format', 'xml'], 'rules prints text or json, not "xml"'],
    [['serve'], 'serve takes --stdio and nothing else'],
    [['che\u001b[2Jck'], 'there is no verb "che\\u001b[2Jck"; see waywarden --help'],
    [['check', '--\u202egate'], 'there is no flag "--\\u{202e}gate" here; see waywarden --help'],
  ])('%j', async (words, said) => {
    expect(await refused(...words)).toBe(said);
  });

  test('without a verb the help goes to the error output', async () => {
    expect(await refused()).toMatch(/^no verb was given\n\nwaywarden: lints drone mission plans/);
  });
});

describe('help and version', () => {
  test.each([[['--help']], [['-h']], [['help']], [['check', '--help']], [['tell', '-h']]])('%j', async (words) => {
    const { code, out, err } = await call(words);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const verb of ['check', 'tell', 'rules', 'serve']) expect(out).toContain(`waywarden ${verb}`);
    for (const flag of [
      '--format',
      '--gate',
      '--now',
      '--all-due',
      '--data',
      '--allow-empty',
      '--name',
      '--baseline',
      '--changed-since',
    ]) {
      expect(out).toContain(flag);
    }
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(110);
  });

  test('--version prints the version alone', async () => {
    expect(await call(['--version'])).toEqual({ code: 0, out: '0.0.0-test\n', err: '' });
  });
});

describe('tell', () => {
  test('without a name lists every rule once, below the question it answers', async () => {
    const { code, out } = await call(['tell']);
    expect(code).toBe(0);
    const listed = out.split('\n').flatMap((line) => /^ {2}([a-z0-9-]+): /.exec(line)?.[1] ?? []);
    const outside = OUT_OF_REACH.map(({ name }) => name);
    expect([...listed].sort()).toEqual([...RULES.map((rule) => rule.id), ...outside].sort());
    for (const question of QUESTIONS.filter((each) => RULES.some((rule) => rule.question === each))) {
      expect(out).toContain(`${question}\n`);
    }
  });

  test('tells why, when, how to mend and where from', async () => {
    const { code, out } = await call(['tell', 'leg-above-height-limit']);
    expect(code).toBe(0);
    for (const part of ['**Condition.**', '**To mend.**', '**Source.**', '14 CFR 107.51(b)', CAUTION]) {
      expect(out).toContain(part);
    }
  });

  test('offers the near miss', async () => {
    expect(await refused('tell', 'leg-above-hight-limit')).toBe(
      'there is no rule "leg-above-hight-limit"; did you mean leg-above-height-limit?',
    );
    expect(await refused('tell', 'zebra')).toBe('there is no rule "zebra"');
  });
});

describe('rules', () => {
  test('prints one line for each rule', async () => {
    const { code, out } = await call(['rules']);
    expect(code).toBe(0);
    expect(out.trimEnd().split('\n')).toHaveLength(RULES.length);
  });

  test('--format json prints an array with one object of the promised shape for each rule', async () => {
    const { out } = await call(['rules', '--format', 'json']);
    const rules = JSON.parse(out) as Record<string, unknown>[];
    expect(rules.map((rule) => rule['id'])).toEqual(RULES.map((rule) => rule.id));
    for (const rule of rules) {
      expect(Object.keys(rule)).toEqual([
        'id',
        'title',
        'question',
        'level',
        'ruleSets',
        'needs',
        'sources',
        'acceptable',
        'waivable',
      ]);
      const { level, ruleSets } = rule as { level: Record<string, string>; ruleSets: string[] };
      expect(Object.keys(level)).toEqual(ruleSets);
      expect(ruleSets.length).toBeGreaterThan(0);
      expect(ruleSets.filter((id) => !RULE_SET_IDS.some((known) => known === id))).toEqual([]);
      expect(Object.values(level).filter((each) => !['stop', 'caution', 'note'].includes(each))).toEqual([]);
      expect(QUESTIONS).toContain(rule['question']);
      expect(typeof rule['acceptable']).toBe('boolean');
      expect(Array.isArray(rule['sources']) && rule['sources'].length > 0).toBe(true);
    }
  });

  test('what is not practice is acceptable only as a note', async () => {
    const rules = JSON.parse((await call(['rules', '--format', 'json'])).out) as {
      id: string;
      acceptable: boolean;
      level: Record<string, string>;
    }[];
    const strict = new Set(RULES.filter((rule) => rule.basis !== 'practice').map((rule) => rule.id));
    expect(
      rules.filter(
        ({ id, acceptable, level }) =>
          acceptable && strict.has(id) && Object.values(level).some((each) => each !== 'note'),
      ),
    ).toEqual([]);
    expect(rules.some(({ acceptable }) => acceptable)).toBe(true);
  });
});
