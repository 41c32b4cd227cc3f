import { Memory } from '../review/memory.ts';
import { type ReviewInput, reviewSteps } from '../review/review.ts';
import type { Checked } from './checked.ts';

/** A review at once, with the tools it was made with, for maps. */
export const judged = (input: ReviewInput): Pick<Checked, 'review' | 'tools'> => {
  const memory = new Memory();
  const steps = reviewSteps(input, memory);
  let step = steps.next();
  while (step.done !== true) step = steps.next();
  const { tools } = memory;
  return { review: step.value, ...(tools === undefined ? {} : { tools }) };
};
