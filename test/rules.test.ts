import { describe, expect, test } from 'vitest';
import { applyFixes } from '../server/src/review/mend.ts';
import type { Review } from '../server/src/review/outcome.ts';
import type { Rule } from '../server/src/rulebook/rule.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { Lines } from '../server/src/text/lines.ts';
import { endOf, startOf } from '../server/src/text/span.ts';
import { type FixtureCase, parseFixture } from './support/fixture.ts';
import { type FixtureWorld, PLAN, parseWorld, prepareFixture } from './support/fixture-world.ts';
import { inLines, judgeText } from './support/judge-text.ts';
import { filesBelow, readProject } from './support/project.ts';
import { seeded } from './support/random.ts';
import { composeExample } from './support/rule-examples.ts';
import { styleFaults } from './support/style.ts';

const STANDARD_HEAD = readProject('test/support/standard-head.yaml');
const STANDARD_WORLD = readProject('test/support/standard-world.yaml');
/** The standard head without its route: a fixture's block usually brings one. */
const HEAD = STANDARD_HEAD;

const fixtures = filesBelow('test/rules').filter((path) => path.endsWith('.md') && !path.endsWith('README.md'));

const expectedLines = (one: FixtureCase): readonly string[] => {
  const lines = new Lines(one.text);
  const at = (offset: number): string => `${lines.at(offset).line + 1}:${lines.at(offset).column + 1}`;
  return [
    ...one.findings.map(({ rule, from, to }) => `${at(from)}-${at(to)} ${rule}`),
    ...one.gaps.map(({ rule, line }) => `${line + 1} ? ${rule}`),
  ].sort();
};

const foundLines = (found: Review, text: string): readonly string[] => {
  const lines = new Lines(text);
  const at = (offset: number): string => `${lines.at(offset).line + 1}:${lines.at(offset).column + 1}`;
  return [
    ...found.findings.map((finding) => `${at(startOf(finding.at))}-${at(endOf(finding.at))} ${finding.rule}`),
    ...found.gaps.map((gap) => `${lines.at(startOf(gap.at)).line + 1} ? ${gap.rule}`),
  ].sort();
};

const reversed: readonly Rule[] = [...RULES].reverse();

const withoutPlaces = (lines: readonly string[]): readonly string[] =>
  lines.map((line) => line.replace(/^[\d:]+-?[\d:]* /, ''));

/** Every fix applies, parses, removes its finding, adds no stop, and touches nothing else. */
const checkFixes = async (one: FixtureCase, world: FixtureWorld, found: Review): Promise<void> => {
  for (const finding of found.findings) {
    for (const fix of finding.fixes ?? []) {
      expect(fix.title, 'a fix title shows old and new, or what it adds').toMatch(/^[A-Z]/);
      const { text: mended } = applyFixes(one.text, PLAN, [fix]);
      expect(mended, `${fix.title} changes nothing`).not.toBe(one.text);
      const after = await judgeText(mended, world);
      const again = after.findings.filter(
        (other) => other.fingerprint === finding.fingerprint && other.message === finding.message,
      );
      expect(
        again.map((other) => other.message),
        `"${fix.title}" leaves its finding`,
      ).toEqual([]);
      const stopsBefore = new Set(found.findings.map((other) => other.fingerprint));
      const newStops = after.findings.filter((other) => other.level === 'stop' && !stopsBefore.has(other.fingerprint));
      expect(
        newStops.map((other) => other.message),
        `"${fix.title}" adds a stop`,
      ).toEqual([]);
      expect(
        after.gaps.filter((gap) => gap.kind === 'fault'),
        `"${fix.title}" makes a rule fail`,
      ).toEqual([]);
    }
  }
};

/** Every line end and ten seeded cuts: half a plan is reviewed without an exception. */
const checkCuts = async (one: FixtureCase, world: FixtureWorld): Promise<void> => {
  const random = seeded(one.text.length);
  const cuts = [...one.text.matchAll(/\n/g)].map((match) => match.index);
  for (let i = 0; i < 10; i++) cuts.push(Math.floor(random() * one.text.length));
  for (const cut of cuts) {
    const found = await judgeText(one.text.slice(0, cut), world);
    expect(
      found.gaps.filter((gap) => gap.kind === 'fault'),
      `cut at ${cut}`,
    ).toEqual([]);
  }
};

for (const path of fixtures) {
  describe(path.replace(/^test\/rules\//, ''), () => {
    const cases = parseFixture(readProject(path), HEAD, STANDARD_WORLD);
    test('holds cases', () => expect(cases.length).toBeGreaterThan(0));
    const seen = new Map<string, number>();
    for (const one of cases) {
      const count = (seen.get(one.title) ?? 0) + 1;
      seen.set(one.title, count);
      test(count === 1 ? one.title : `${one.title} (${count})`, async () => {
        const world = parseWorld(one.world, STANDARD_WORLD);
        const found = await judgeText(one.text, world);
        expect(
          foundLines(found, one.text),
          inLines(found, one.text)
            .filter((line) => !line.includes(' = '))
            .join('\n'),
        ).toEqual(expectedLines(one));
        for (const expected of one.findings) {
          const messages = found.findings
            .filter((finding) => finding.rule === expected.rule && startOf(finding.at) === expected.from)
            .map((finding) => finding.message);
          expect(
            messages.some((message) => message.includes(expected.part)),
            `${messages.join(' | ')} should say "${expected.part}"`,
          ).toBe(true);
        }
        for (const expected of one.gaps) {
          const reasons = found.gaps.filter((gap) => gap.rule === expected.rule).map((gap) => gap.reason);
          expect(
            reasons.some((reason) => reason.includes(expected.part)),
            `${reasons.join(' | ')} should say "${expected.part}"`,
          ).toBe(true);
        }
        for (const finding of found.findings) expect(styleFaults(finding.message), finding.message).toEqual([]);
        for (const gap of found.gaps) expect(styleFaults(gap.reason), gap.reason).toEqual([]);

        const lines = inLines(found, one.text);
        expect(inLines(await judgeText(one.text, world), one.text), 'a second time').toEqual(lines);
        expect(inLines(await judgeText(one.text, world, reversed), one.text), 'rules in reverse order').toEqual(lines);
        if (!one.text.includes('\r')) {
          const crlf = one.text.replaceAll('\n', '\r\n');
          expect(inLines(await judgeText(crlf, world), crlf), 'with CRLF').toEqual(lines);
        }
        const marked = `\ufeff${one.text}`;
        expect(withoutPlaces(inLines(await judgeText(marked, world), marked)), 'with a byte order mark').toEqual(
          withoutPlaces(lines),
        );
        await checkFixes(one, world, found);
        await checkCuts(one, world);

        if (one.mended !== undefined) {
          const { fix } = one.mended;
          const fixes = found.findings.flatMap((finding) => finding.fixes ?? []);
          const chosen = fix === undefined ? fixes[0] : fixes.find((candidate) => candidate.title.includes(fix));
          expect(chosen, `no fix "${fix ?? ''}" among: ${fixes.map(({ title }) => title).join(' | ')}`).toBeDefined();
          if (chosen !== undefined) expect(applyFixes(one.text, PLAN, [chosen]).text).toBe(one.mended.text);
        }
      });
    }
  });
}

describe('every rule', () => {
  for (const rule of RULES) {
    test(`${rule.id}: the faulty example is told, the sound one is not`, async () => {
      const { faulty, sound, world, soundWorld } = rule.example;
      const bad = await judgeText(composeExample(faulty), parseWorld(world ?? '', STANDARD_WORLD));
      const said = [...bad.findings, ...bad.gaps].map((one) => one.rule);
      expect(
        said,
        inLines(bad, '')
          .filter((line) => !line.includes(' = '))
          .join('\n'),
      ).toContain(rule.id);
      const good = await judgeText(composeExample(sound), parseWorld(soundWorld ?? '', STANDARD_WORLD));
      const still = [...good.findings, ...good.gaps].map((one) => one.rule);
      expect(
        still,
        inLines(good, '')
          .filter((line) => !line.includes(' = '))
          .join('\n'),
      ).not.toContain(rule.id);
    });
  }
  test('has a fixture, and every fixture a rule', () => {
    const named = fixtures.map((path) => path.replace(/^test\/rules\//, '').replace(/\.md$/, ''));
    expect(named).toEqual(RULES.map((rule) => rule.id).sort());
  });
});

test('the standard plan of the fixtures has no finding and no gap', async () => {
  const found = await judgeText(HEAD, parseWorld('', STANDARD_WORLD));
  expect(inLines(found, HEAD).filter((line) => !line.includes(' = '))).toEqual([]);
  const { input } = await prepareFixture(HEAD, parseWorld('', STANDARD_WORLD));
  expect(input.world.problems.size).toBe(0);
});
