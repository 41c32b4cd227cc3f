import type { FactTools } from '../facts/fact.ts';
import type { Overflight } from '../facts/overflight.ts';
import type { PeopleArea } from '../world/people.ts';
import type { Lift } from './finding.ts';
import { categoryMismatch, claimedCategory } from './people-category.ts';

/** What lifts a flight over people, or why nothing does. */
export interface Answer {
  readonly lift?: Lift;
  /** Why nothing lifts it, for the message. */
  readonly why?: string;
}

/** The section of part 107 that a flight over an area breaks, and that a waiver has to name. */
export const sectionOver = ({ kind }: PeopleArea): string => (kind === 'road' ? '107.145' : '107.39');

/** Whether the category that the plan claims covers the flight over an area. Throws `NotAssessed`. */
export const answerTo = (area: PeopleArea, over: Overflight, tools: FactTools): Answer => {
  const { plan, ruleSet } = tools;
  if (ruleSet !== 'us-part-107') return {};
  const category = claimedCategory(plan);
  if (category === undefined || plan.category === undefined) return {};
  const mismatch = categoryMismatch(category, area, over, tools);
  if (mismatch === undefined) return { lift: { kind: 'category', name: category, span: plan.category.span } };
  return { why: mismatch };
};
