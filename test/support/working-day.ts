import { describe, expect, test } from 'vitest';
import { prepare } from '../../server/src/host/prepare.ts';
import { readTime } from '../../server/src/plan/scalars/time.ts';
import type { Review } from '../../server/src/review/outcome.ts';
import { review } from '../../server/src/review/review.ts';
import { Lines } from '../../server/src/text/lines.ts';
import { startOf } from '../../server/src/text/span.ts';
import { hostOf } from './fixture-world.ts';
import { readProject } from './project.ts';

/**
 * A working day: a whole realistic plan with the complete list of what is found and what is not assessed. A mutant is
 * the plan with one number or word changed; it must be found by exactly the findings and gaps named.
 */
export interface WorkingDay {
  readonly title: string;
  /** Path of the plan from the project's root. */
  readonly plan: string;
  readonly now: string;
  /** Files beside the plan. */
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly expected: readonly string[];
  /** The tightest room of rules with a number, between two bounds in the rule's own unit. No other may be negative. */
  readonly margins: Readonly<Record<string, readonly [number, number]>>;
  readonly mutants: readonly Mutant[];
}

export interface Mutant {
  readonly because: string;
  /** Stands exactly once in the plan. */
  readonly search: string;
  readonly replace: string;
  /** `stop rule-id` for a finding, `? rule-id` for a gap, in the order of their names. */
  readonly expected: readonly string[];
}

const PLACE = '/day/flight.mission.yaml';

export const judgeDay = async (day: WorkingDay, text: string): Promise<Review> => {
  const now = readTime(day.now);
  if (!now.ok) throw new Error(`the day has the time "${day.now}"`);
  const beside = Object.entries(day.files).map(([name, content]) => [`/day/${name}`, content] as const);
  const host = hostOf({ ...Object.fromEntries(beside), [PLACE]: text });
  const { input } = await prepare(text, PLACE, host, now.value.at);
  return review(input);
};

const shortly = (found: Review): readonly string[] =>
  [...found.findings.map(({ level, rule }) => `${level} ${rule}`), ...found.gaps.map(({ rule }) => `? ${rule}`)].sort();

const fully = (found: Review, text: string): string => {
  const lines = new Lines(text);
  return [
    ...found.findings.map(({ at, message }) => `line ${lines.at(startOf(at)).line + 1}: ${message}`),
    ...found.gaps.map(
      ({ at, rule, reason }) => `line ${lines.at(startOf(at)).line + 1}: ${rule} not assessed, ${reason}`,
    ),
  ].join('\n');
};

export const mutate = (text: string, { search, replace }: Mutant): string => {
  if (text.split(search).length !== 2) throw new Error(`"${search}" stands not exactly once in the plan`);
  return text.replace(search, () => replace);
};

/** The tests of a day. */
export const testDay = (day: WorkingDay): void => {
  describe(day.title, () => {
    const text = readProject(day.plan);

    test('the plan has exactly the expected findings and gaps', async () => {
      const found = await judgeDay(day, text);
      expect(shortly(found), fully(found, text)).toEqual(day.expected);
      expect(found.accepted).toEqual([]);
      expect(found.matrix.filter(({ state }) => state === 'switched-off')).toEqual([]);
    });

    test('every margin of the plan is what a pilot would expect', async () => {
      const { margins } = await judgeDay(day, text);
      const rooms = margins.map(({ rule, room, subject }) => `${rule}: ${room.toFixed(1)} at ${subject}`);
      expect(
        margins.map(({ rule }) => rule),
        rooms.join('\n'),
      ).toEqual(expect.arrayContaining(Object.keys(day.margins)));
      for (const { rule, room, subject } of margins) {
        const [least, most] = day.margins[rule] ?? [-1e-9, Number.POSITIVE_INFINITY];
        expect(room, `${rule} at ${subject}`).toBeGreaterThan(least);
        expect(room, `${rule} at ${subject}`).toBeLessThan(most);
      }
    });

    test('has ten mutants or more', () => expect(day.mutants.length).toBeGreaterThanOrEqual(10));

    for (const mutant of day.mutants) {
      test(`${mutant.because}: "${mutant.search}" becomes "${mutant.replace}"`, async () => {
        const mutated = mutate(text, mutant);
        const found = await judgeDay(day, mutated);
        expect(shortly(found), fully(found, mutated)).toEqual(mutant.expected);
      });
    }
  });
};
