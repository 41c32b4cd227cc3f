import { expect, test } from 'vitest';
import { Steps } from '../../server/src/facts/steps.ts';
import { reviewSteps } from '../../server/src/review/review.ts';
import { inSteps } from '../../server/src/rulebook/in-steps.ts';
import { defineRule, type Rule } from '../../server/src/rulebook/rule.ts';
import windowBackwards from '../../server/src/rules/window-backwards.ts';
import { parseWorld, prepareFixture } from '../support/fixture-world.ts';
import { standardHead, standardWorld } from '../support/rule-examples.ts';

function* counting(upTo: number): Generator<void, number> {
  for (let i = 0; i < upTo; i++) yield;
  return upTo;
}

const ruleOf = (work: number): Rule => ({
  ...defineRule({
    ...windowBackwards,
    *check(plan) {
      const counted = yield* inSteps(counting(work));
      yield { found: { at: plan.titleSpan, subject: 'the plan', message: `counted to ${counted}` } };
    },
  }),
  id: 'made-for-this-test',
});

test('a rule that works long pauses, and the review with it; nothing else becomes of its pauses', async () => {
  const { input } = await prepareFixture(standardHead(), parseWorld('', standardWorld()));
  const reviewed = (work: number) => {
    const steps = reviewSteps({ ...input, rules: [ruleOf(work)] });
    let count = 0;
    for (;;) {
      const step = steps.next();
      if (step.done === true) return { count, review: step.value };
      count += 1;
    }
  };
  const [short, long] = [reviewed(0), reviewed(70)];
  expect(long.count - short.count).toBe(70);
  expect(long.review.findings.map(({ message }) => message)).toEqual(['counted to 70']);
  expect(long.review.matrix.map(({ state }) => state)).toEqual(['found']);
});

test('work that several ask for is done once, by whoever comes first, and fails alike for all', () => {
  let done = 0;
  const steps = new Steps(
    (function* (): Generator<void, number> {
      for (let i = 0; i < 5; i++) {
        done += 1;
        yield;
      }
      return 7;
    })(),
  );
  const first = steps.finish();
  first.next();
  expect(done).toBe(1);
  expect(steps.now()).toBe(7);
  expect(first.next()).toEqual({ done: true, value: 7 });
  expect([steps.now(), done]).toEqual([7, 5]);
  expect(new Steps<number>({ value: 3 }).now()).toBe(3);
  const failing = new Steps(
    // biome-ignore lint/correctness/useYield: it fails before it could.
    (function* (): Generator<void, number> {
      throw new Error('no');
    })(),
  );
  expect(() => failing.now()).toThrow('no');
  expect(() => failing.finish().next()).toThrow('no');
});
