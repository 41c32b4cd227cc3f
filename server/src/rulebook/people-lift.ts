import type { FactTools } from '../facts/fact.ts';
import type { Overflight } from '../facts/overflight.ts';
import type { PeopleArea } from '../world/people.ts';
import type { Lift } from './finding.ts';
import { categoryMismatch, claimedCategory } from './people-category.ts';
import { waiversOf } from './waived.ts';

/** What lifts a flight over people, or why nothing does. */
export interface Answer {
  readonly lift?: Lift;
  /** Why nothing lifts it, for the message. */
  readonly why?: string;
}

/** Whether a waiver or the category that the plan claims covers the flight over an area. Throws `NotAssessed`. */
export const answerTo = (area: PeopleArea, over: Overflight, tools: FactTools): Answer => {
  const { plan, ruleSet } = tools;
  if (ruleSet !== 'us-part-107') return {};
  const waivers = waiversOf(plan, area.kind === 'road' ? '107.145' : '107.39');
  const valid = waivers.find(({ mismatch }) => mismatch === undefined)?.waiver;
  if (valid !== undefined) {
    return { lift: { kind: 'waiver', name: valid.number?.value ?? '', span: valid.span } };
  }
  const faults = waivers.map(({ waiver, mismatch }) => `waiver "${waiver.number?.value ?? ''}" ${mismatch}`);
  const category = claimedCategory(plan);
  if (category === undefined || plan.category === undefined) return faults.length > 0 ? { why: faults.join('; ') } : {};
  const mismatch = categoryMismatch(category, area, over, tools);
  if (mismatch === undefined) return { lift: { kind: 'category', name: category, span: plan.category.span } };
  return { why: [...faults, mismatch].join('; ') };
};
