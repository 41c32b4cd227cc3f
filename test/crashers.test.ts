import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { diskFiles } from '../server/src/host/disk.ts';
import { worldCache } from '../server/src/host/load-world.ts';
import { prepare } from '../server/src/host/prepare.ts';
import { decodeText } from '../server/src/host/text-file.ts';
import { readPlan } from '../server/src/plan/read.ts';
import type { Review } from '../server/src/review/outcome.ts';
import { review } from '../server/src/review/review.ts';
import { startOf } from '../server/src/text/span.ts';
import { instant } from '../server/src/units/frames.ts';
import { hostOf, PLAN } from './support/fixture-world.ts';
import { filesBelow, inProject } from './support/project.ts';
import { styleFaults } from './support/style.ts';

const NOW = instant(Date.UTC(2026, 5, 13, 12));

/** No rule has failed, something has been said, and every finding stands inside the text. */
const checkReview = (found: Review, text: string, what: string): void => {
  expect(
    found.gaps.filter(({ kind }) => kind === 'fault').map(({ rule, reason }) => `${rule}: ${reason}`),
    `${what}: a rule failed`,
  ).toEqual([]);
  expect(found.findings.length + found.gaps.length, `${what}: silence`).toBeGreaterThan(0);
  for (const { at, message } of found.findings) {
    if (at.anchor.document === found.plan.document)
      expect(startOf(at), `${what}: ${message}`).toBeLessThanOrEqual(text.length);
    expect(styleFaults(message), message).toEqual([]);
  }
};

const judgeAlone = async (text: string): Promise<Review> => {
  const { input } = await prepare(text, PLAN, hostOf({ [PLAN]: text }), NOW);
  return review(input);
};

describe('a file that was made to break things is reviewed, and something is found in it:', () => {
  const stored = filesBelow('test/crashers').filter((path) => !path.endsWith('README.md'));

  test('there are some', () => expect(stored.length).toBeGreaterThanOrEqual(4));

  for (const path of stored) {
    test(path.replace(/^test\/crashers\//, ''), async () => {
      const text = decodeText(readFileSync(inProject(path)));
      checkReview(await judgeAlone(text), text, path);
    });
  }

  const HEAD = 'mission: 1\ntitle: made\n';
  const made: readonly (readonly [string, string])[] = [
    ['an empty file', ''],
    ['a hundred thousand brackets that are never closed', '['.repeat(100_000)],
    ['a hundred thousand braces inside a route', `${HEAD}route:\n  - ${'{ a: '.repeat(100_000)}\n`],
    ['blocks ten thousand deep', Array.from({ length: 2000 }, (_, depth) => `${' '.repeat(depth)}k:\n`).join('')],
    ['dashes within dashes', `${HEAD}route:\n  ${'- '.repeat(20_000)}x\n`],
    ['40,000 keys', `${HEAD}${Array.from({ length: 40_000 }, (_, i) => `key-${i}: ${i}\n`).join('')}`],
    [
      '40,000 keys inside braces',
      `${HEAD}site: { ${Array.from({ length: 40_000 }, (_, i) => `k${i}: ${i}`).join(', ')} }\n`,
    ],
    ['one key 40,000 times', `${HEAD}${'country: US\n'.repeat(40_000)}`],
    ['one line of a million characters', `${HEAD}purpose: ${'x'.repeat(1_000_000)}\n`],
    [
      'a number of a hundred thousand digits',
      `${HEAD}route:\n  - point: a\n    at: ${'9'.repeat(100_000)}, 1\n    altitude: ${'9'.repeat(100_000)} m AGL\n`,
    ],
    ['a quote that is never closed', `${HEAD}purpose: "${'never closed\n'.repeat(5000)}`],
    ['nothing but control characters', String.fromCharCode(...Array.from({ length: 32 }, (_, i) => i)).repeat(100)],
  ];
  for (const [name, text] of made) {
    test(name, async () => checkReview(await judgeAlone(text), text, name));
  }
});

describe('every prefix of a sample is reviewed without a rule that fails:', () => {
  const samples = filesBelow('samples').filter((path) => path.endsWith('.mission.yaml'));

  test('there are samples', () => expect(samples.length).toBeGreaterThan(0));

  for (const path of samples) {
    test(path, async () => {
      const text = readFileSync(inProject(path), 'utf8');
      const host = { files: diskFiles(), dataFolders: [], restricted: false, cache: worldCache() };
      const { input } = await prepare(text, inProject(path), host, NOW);
      // The world of the whole sample serves each half-written one: what is loaded hangs on the references alone.
      for (let to = 0; to < text.length; to++) {
        const half = text.slice(0, to);
        const plan = readPlan(half, inProject(path));
        // Inside a comment the plan stays what it was before it.
        if (/^\s*#.+$/.test(half.slice(half.lastIndexOf('\n') + 1))) continue;
        const found = review({ ...input, plan });
        const fault = found.gaps.find(({ kind }) => kind === 'fault');
        if (fault !== undefined) expect.fail(`the first ${to} characters: ${fault.rule}: ${fault.reason}`);
        if (found.findings.length + found.gaps.length === 0 && !half.includes('- land:')) {
          expect.fail(`nothing is said of the first ${to} characters, which hold no landing`);
        }
      }
    }, 300_000);
  }
});
