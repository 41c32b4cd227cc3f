import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Plan } from '../../server/src/plan/model.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import type { Slip } from '../../server/src/plan/slip.ts';
import { endOf, startOf } from '../../server/src/text/span.ts';
import { SAMPLE_PLAN } from '../support/sample-plan.ts';
import { SUITE_MISSING, yamlSuite } from '../support/yaml-suite.ts';

/** Each slip says where it stands, inside the text, and in which section. */
const expectSound = (text: string, slips: readonly Slip[]): void => {
  for (const slip of slips) {
    expect(startOf(slip.span)).toBeGreaterThanOrEqual(0);
    expect(endOf(slip.span)).toBeGreaterThanOrEqual(startOf(slip.span));
    expect(endOf(slip.span)).toBeLessThanOrEqual(text.length);
    expect(slip.subject).not.toBe('');
  }
};

const read = (text: string): Plan => {
  const plan = readPlan(text, 'plan');
  expectSound(text, plan.slips);
  expectSound(text, readAircraft(text, 'aircraft').slips);
  expectSound(text, readSettings(text, 'settings').slips);
  return plan;
};

const kinds = (text: string): readonly string[] => read(text).slips.map(({ kind }) => kind);

const isSyntax = ({ kind }: Slip): boolean =>
  kind === 'yaml-broken' || kind === 'yaml-not-plain' || kind === 'document-too-large';

describe(`the YAML test suite${SUITE_MISSING === undefined ? '' : ` (skipped: ${SUITE_MISSING})`}`, () => {
  test('every case that must be refused is told as a mistake of syntax', (context) => {
    if (SUITE_MISSING !== undefined) return context.skip(SUITE_MISSING);
    const refused = yamlSuite().filter(({ mustFail }) => mustFail);
    expect(refused.length).toBeGreaterThan(30);
    for (const { id, text } of refused) expect(read(text).slips.some(isSyntax), id).toBe(true);
  });

  test('every other case is told as no plan, and none as broken', (context) => {
    if (SUITE_MISSING !== undefined) return context.skip(SUITE_MISSING);
    for (const { id, text, mustFail } of yamlSuite()) {
      if (mustFail) continue;
      const { slips } = read(text);
      expect(slips.length, id).toBeGreaterThan(0);
      expect(
        slips.some(({ kind }) => kind === 'yaml-broken'),
        id,
      ).toBe(false);
    }
  });
});

describe('texts that are no plan', () => {
  test('an empty text lacks its first key', () => {
    expect(kinds('')).toEqual(['key-missing']);
    expect(kinds('\n\n# nothing\n')).toEqual(['key-missing']);
    expect(kinds('\ufeff')).toEqual(['key-missing']);
  });

  test('a binary is told once', () => {
    expect(kinds('\u0000\u0001\u0002PK\u0003\u0004')).toEqual(['yaml-broken']);
    const image = readFileSync(join(import.meta.dirname, '../../client/media/icon.png')).toString('utf8');
    expect(kinds(image)).toEqual(['yaml-broken']);
    expect(kinds('\u0007\u0008\u0001 abc'.repeat(100))).toEqual(['yaml-broken']);
  });

  test('a text, a list, and a list of lists are told once', () => {
    expect(kinds('hello')).toEqual(['value-of-wrong-kind']);
    expect(kinds('- a\n- b\n')).toEqual(['value-of-wrong-kind']);
    expect(kinds('[[1], [2]]')).toEqual(['value-of-wrong-kind']);
  });

  test('a text of more than 8,000,000 characters, and a part of more than 1,000,000, are told once', () => {
    expect(kinds(`mission: 1\n# ${'x'.repeat(8_000_000)}`)).toEqual(['document-too-large']);
    expect(kinds(`mission: 1\n# ${'x'.repeat(1_000_001)}`)).toEqual(['document-too-large']);
    const item = `mission: 1\ntitle: a\npurpose: b\nroute:\n- point: ${'x'.repeat(1_000_001)}\n- land: a\n`;
    const plan = read(item);
    expect(plan.slips.map(({ kind }) => kind)).toEqual(['document-too-large']);
    expect(plan.items.map(({ kind }) => kind)).toEqual(['unread', 'land']);
  });

  test('a route of more than 20,000 items is read up to there', () => {
    const plan = readPlan(`mission: 1\ntitle: a\npurpose: b\nroute:\n${'- hold: 1 s\n'.repeat(20_001)}`, 'plan');
    expect(plan.slips.map(({ kind }) => kind)).toEqual(['document-too-large']);
    expect(plan.items).toHaveLength(20_000);
    expect(plan.unread).toHaveLength(1);
  });
});

describe('nesting', () => {
  const bombs: readonly (readonly [string, string])[] = [
    ['opening brackets', '['.repeat(20_000)],
    ['brackets that close', '['.repeat(1000) + ']'.repeat(1000)],
    ['braces', '{a: '.repeat(5000)],
    ['dashes on one line', `${'- '.repeat(1000)}x`],
    ['question marks on one line', `${'? '.repeat(1000)}x`],
    ['keys ever further in', Array.from({ length: 500 }, (_, i) => `${' '.repeat(i)}a:\n`).join('')],
    ['lists ever further in', Array.from({ length: 500 }, (_, i) => `${' '.repeat(i)}-\n`).join('')],
    ['brackets behind quotes', `a: ['"', "'", ${'['.repeat(2000)}`],
    ['brackets behind an apostrophe', `a: it's\nb: ${'['.repeat(2000)}`],
  ];
  for (const [name, bomb] of bombs) {
    test(`too deep is told once and spoils only its value: ${name}`, () => {
      expect(kinds(bomb).filter((kind) => kind === 'document-too-large')).toHaveLength(1);
      const lines = bomb.split('\n').map((line) => `      ${line}`);
      const plan = read(
        `mission: 1\ntitle: a\npurpose: b\nroute:\n- point: b\n  at:\n${lines.join('\n')}\n- land: a\n`,
      );
      // Keys that no point has are told as well.
      expect(plan.slips.map(({ kind }) => kind).filter((kind) => kind !== 'key-unknown')).toEqual([
        'document-too-large',
      ]);
      expect(plan.items.map(({ kind }) => kind)).toEqual(['point', 'land']);
    });
  }

  test('fifty fresh processes each read twenty thousand brackets to the end', async () => {
    // A single parse of such a text can end a process that is not warmed up, in a way that no program can catch.
    const bundle = await build({
      stdin: {
        contents: `import { readPlan } from './server/src/plan/read.ts';
          for (const text of ['['.repeat(20000), '['.repeat(1000) + ']'.repeat(1000), '- '.repeat(1000)]) {
            for (let i = 0; i < 5; i++) console.log(readPlan(text, 'plan').slips.map((slip) => slip.kind).join());
          }`,
        resolveDir: join(import.meta.dirname, '../..'),
        loader: 'ts',
      },
      bundle: true,
      minify: true,
      write: false,
      platform: 'node',
      format: 'cjs',
      logLevel: 'silent',
    });
    const program = bundle.outputFiles[0]?.text ?? '';
    for (let i = 0; i < 50; i++) {
      const { status, stdout } = spawnSync(process.execPath, ['-'], { input: program, encoding: 'utf8' });
      expect(status).toBe(0);
      expect(stdout).toBe('document-too-large\n'.repeat(15));
    }
  });
});

describe('many and strange keys', () => {
  test('forty thousand unknown keys are one slip with their number', () => {
    const keys = Array.from({ length: 40_000 }, (_, i) => `k${i}: v\n`).join('');
    const { slips } = read(`mission: 1\ntitle: a\npurpose: b\nroute: [{ hold: 1 s }]\n${keys}`);
    expect(slips).toHaveLength(1);
    expect(slips[0]).toMatchObject({ kind: 'key-unknown', key: 'k0', others: 39_999 });
  });

  test('forty thousand keys of one name are one slip', () => {
    const { slips } = read(
      `mission: 1\ntitle: a\npurpose: b\nroute: [{ hold: 1 s }]\n${'country: US\n'.repeat(40_000)}`,
    );
    expect(slips.map(({ kind }) => kind)).toEqual(['key-repeated']);
  });

  test('forty thousand lines without a colon are twenty-one slips at most', () => {
    expect(kinds(`mission: 1\n${'x\n'.repeat(40_000)}`).length).toBeLessThanOrEqual(21);
  });

  test('keys that mean something to JavaScript mean nothing here', () => {
    for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf']) {
      const { slips } = read(`${SAMPLE_PLAN}${key}: { title: x }\n`);
      expect(slips).toMatchObject([{ kind: 'key-unknown', key }]);
      const named = read(SAMPLE_PLAN.replace('point: reed-bed', `point: ${key}`));
      expect(named.slips).toEqual([]);
      expect(read(SAMPLE_PLAN.replace('- point', `- ${key}`)).slips).toMatchObject([{ kind: 'item-unknown' }]);
      expect(read(SAMPLE_PLAN.replace('country: US', `crew: { ${key}: x }`)).slips.map((slip) => slip.kind)).toContain(
        'key-repeated',
      );
    }
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect('title' in {}).toBe(false);
  });

  test('a bomb of aliases is told alias by alias and never unfolded', () => {
    const lines = Array.from({ length: 30 }, (_, i) => `k${i + 1}: &a${i + 1} [${Array(9).fill(`*a${i}`).join(', ')}]`);
    const found = kinds(`k0: &a0 [x]\n${lines.join('\n')}\n`);
    expect(found.filter((kind) => kind === 'yaml-not-plain')).toHaveLength(31 + 270);
  });
});

describe('texts in the making', () => {
  test('every beginning of a plan is read, and a plan that is cut off is never without a slip', () => {
    for (let end = 0; end < SAMPLE_PLAN.length; end++) {
      const plan = read(SAMPLE_PLAN.slice(0, end));
      if (end < SAMPLE_PLAN.indexOf('- take-off')) expect(plan.slips.length, String(end)).toBeGreaterThan(0);
    }
    expect(read(SAMPLE_PLAN).slips).toEqual([]);
  });

  test('with an open bracket at every place the items above it stay as they are', () => {
    const whole = read(SAMPLE_PLAN);
    const from = SAMPLE_PLAN.indexOf('- area') + 2;
    for (let at = from; at < SAMPLE_PLAN.length; at++) {
      const plan = read(`${SAMPLE_PLAN.slice(0, at)}[${SAMPLE_PLAN.slice(at)}`);
      expect(plan.items.slice(0, 2).map(({ id, unread }) => [id.value, unread])).toEqual(
        whole.items.slice(0, 2).map(({ id, unread }) => [id.value, unread]),
      );
    }
  });

  test('whatever happens to its characters, a plan is read without an exception', () => {
    const edit = fc.tuple(
      fc.nat(),
      fc.oneof(
        fc.string({ maxLength: 4 }),
        fc.constantFrom('\n', '- ', ': ', '"', '{', ']', '&a ', '*a', '!t ', '\t', '\u0000', '---\n'),
      ),
      fc.nat(6),
    );
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        read(
          edits.reduce((text, [at, put, cut]) => {
            const from = at % (text.length + 1);
            return text.slice(0, from) + put + text.slice(from + cut);
          }, SAMPLE_PLAN),
        );
      }),
      { numRuns: 400, seed: 7 },
    );
  });

  test('any bytes are read without an exception', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        read(new TextDecoder().decode(bytes));
      }),
      { numRuns: 300, seed: 7 },
    );
  });

  test('a syntax error hides no key that stands behind it, and no key is called missing', () => {
    const text = SAMPLE_PLAN.replace('title: Reed-bed', 'title: "Reed-bed');
    const plan = read(text);
    expect(plan.slips.map(({ kind }) => kind)).toEqual(['yaml-broken']);
    expect(plan.purpose?.value).toBe('habitat survey for a client');
    expect(plan.items).toHaveLength(4);
    expect(plan.unread.map((span) => text.slice(startOf(span), endOf(span)))).toContain(
      '"Reed-bed survey, north shore',
    );
  });
});
