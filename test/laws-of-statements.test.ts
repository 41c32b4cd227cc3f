import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import type { Plan } from '../server/src/plan/model.ts';
import { readPlan } from '../server/src/plan/read.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { judgePlan } from './support/judge-draft.ts';
import { ALL, checkPremises, held, RUNS, SEED } from './support/law-runs.ts';
import { flights, worlds } from './support/random-flight.ts';
import { textOf, worldOf } from './support/write-draft.ts';

/** Sources that stand in the plan itself: what the crew says of the people below, and of the weather. */
type Stated = 'people' | 'weather';

/** Rules that may be met although they looked into what is not there, each with the reason. */
const ANSWERED_OTHERWISE: Readonly<Record<string, readonly Stated[]>> = {
  // What is not there has no broken reference, no file of it is old, and no report of it is faulty or of another day.
  'reference-unreadable': ['people', 'weather'],
  'people-data-old': ['people'],
  'weather-report-unreadable': ['weather'],
  'weather-of-another-day': ['weather'],
  'weather-station-far': ['weather'],
  'weather-better-than-reported': ['weather'],
  // Statements that are not there are neither old nor dated ahead.
  'plan-reused': ['people'],
  'statement-dated-ahead': ['people'],
};

/** A plan that notes whether anyone looked into one of its sources. */
const watched = (plan: Plan, source: Stated): { readonly plan: Plan; looks(): number } => {
  let looks = 0;
  const part = plan[source];
  if (part === undefined) throw new Error(`the plan of the law has no ${source}`);
  const noting = new Proxy(part, {
    get: (target, key, receiver) => {
      // The matrix asks for the files of every source to name them; the plans of this law have none.
      if (key !== 'files') looks++;
      return Reflect.get(target, key, receiver);
    },
  });
  return { plan: { ...plan, [source]: noting }, looks: () => looks };
};

/** The same plan without a source. A plan in which nothing is said of the weather holds an empty one. */
const taken = (plan: Plan, source: Stated): Plan => {
  if (source === 'weather') return { ...plan, weather: {} };
  const { people: _people, ...rest } = plan;
  return rest;
};

describe(`taking away what the plan itself states makes gaps, never silence (seed ${SEED}):`, () => {
  afterAll(checkPremises);

  test('a plan without weather is read as one with an empty one', () => {
    expect(readPlan('mission: 1\n', 'bare.mission.yaml')).toMatchObject({ weather: {} });
    const { weather } = readPlan('mission: 1\n', 'bare.mission.yaml');
    expect(Object.values(weather).every((list) => Array.isArray(list) && list.length === 0)).toBe(true);
  });

  test.each<Stated>(['people', 'weather'])('%s', (source) => {
    fc.assert(
      fc.property(flights(ALL), worlds, (flight, draft) => {
        const world = worldOf(draft);
        const plan = readPlan(textOf(flight, draft), 'made.mission.yaml');
        const after = judgePlan(taken(plan, source), world);
        const silent = RULES.filter((rule) => {
          const one = watched(plan, source);
          judgePlan(one.plan, world, { rules: [rule] });
          const state = after.matrix.find((row) => row.rule === rule.id)?.state;
          return (
            one.looks() > 0 &&
            ANSWERED_OTHERWISE[rule.id]?.includes(source) !== true &&
            (state === 'met' || state === undefined)
          );
        });
        expect(silent.map(({ id }) => id)).toEqual([]);
        expect(after.complete).toBe(false);
        held(
          `a rule lacks ${source}`,
          after.gaps.some(({ reason }) => reason.includes(source === 'people' ? 'people' : 'the plan gives no')),
        );
      }),
      { ...RUNS, numRuns: 25 },
    );
  });
});
