import { expect, test } from 'vitest';
import { tellRule } from '../server/src/review/tell.ts';
import { RULES } from '../server/src/rules/index.generated.ts';

/** Words of a rule's page without its sources. */
const wordsOf = (page: string): number =>
  (page.split('**Source.**')[0] ?? '').split(/\s+/).filter((word) => /\w/.test(word)).length;

const lengths = RULES.map((rule) => ({ rule: rule.id, words: wordsOf(tellRule(rule)) })).sort(
  (one, other) => other.words - one.words,
);

/**
 * A page is to be read in a minute: about 150 words. Rules with several rule sets, exceptions and readings of the law are
 * longer today. This many are, and the number may only fall.
 */
const LONGER_TODAY = 55;

test('pages of rules are about 150 words long, and no more of them are longer than there were', () => {
  expect(lengths.filter(({ words }) => words > 165).length).toBeLessThanOrEqual(LONGER_TODAY);
});

test('no page is longer than two minutes of reading', () => {
  expect(lengths.filter(({ words }) => words > 360)).toEqual([]);
});
