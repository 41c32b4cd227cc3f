import type { Plan } from '../plan/model.ts';
import { defineFact } from './fact.ts';

export interface TakeOffNames {
  /** In the order of the route. */
  readonly names: readonly string[];
  /** False where an item could not be read that may be a take-off. */
  readonly whole: boolean;
}

/** What the take-offs of a plan are called. */
export const takeOffNames = defineFact({
  name: 'take-off-names',
  derive: (plan: Plan): TakeOffNames => ({
    names: plan.items.filter(({ kind }) => kind === 'take-off').map(({ id }) => id.value),
    whole: plan.items.every(({ kind }) => kind !== 'unread'),
  }),
});
