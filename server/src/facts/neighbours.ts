import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Neighbour } from '../world/neighbour.ts';
import type { Missing } from '../world/world.ts';
import { type Ask, defineFact, type Fact, type FactTools } from './fact.ts';
import type { Partly } from './lacking.ts';

type Outcome = { readonly value: unknown } | { readonly thrown: unknown };

/** Answers facts about another plan, each once. */
const answering = (known: Omit<FactTools, 'ask'>): FactTools => {
  const answers = new WeakMap<object, Map<object, Outcome>>();
  const outcomeOf = <Of extends object, T>(fact: Fact<Of, T>, of: Of): Outcome => {
    try {
      return { value: fact.derive(of, tools) };
    } catch (thrown) {
      return { thrown };
    }
  };
  const ask: Ask = <Of extends object, T>(fact: Fact<Of, T>, of: Of): T => {
    const own = answers.get(of) ?? new Map<object, Outcome>();
    answers.set(of, own);
    const outcome = own.get(fact) ?? outcomeOf(fact, of);
    own.set(fact, outcome);
    if ('thrown' in outcome) throw outcome.thrown;
    return outcome.value as T;
  };
  const tools: FactTools = { ...known, ask };
  return tools;
};

/** What facts look at when they are asked about the flights of a plan alongside: its plan and its world. */
export const neighbourTools = defineFact({
  name: 'neighbour-tools',
  derive: ({ plan, world }: Neighbour, { settings, ruleSet, now }: FactTools): FactTools =>
    answering({ plan, world, settings, ruleSet, now }),
});

export interface Neighbours extends Partly {
  readonly known: readonly Neighbour[];
}

/** The text of a plan alongside has faults: what seems not to be in it may be what was not read. */
const faultyText = ({ reference, plan }: Neighbour): readonly Missing[] =>
  plan.slips.length === 0
    ? []
    : [{ missing: `plan "${reference}" has text that could not be read in full; its own check tells what` }];

/** The plans that are flown alongside. One that could not be read, or not in full, is lacking. */
export const neighbours = defineFact({
  name: 'neighbours',
  derive: (_plan: Plan, { world }: FactTools): Neighbours => {
    const known: Neighbour[] = [];
    const lacking: Missing[] = [];
    for (const each of world.alongside ?? []) {
      if ('missing' in each) lacking.push({ missing: each.missing });
      else {
        known.push(each);
        lacking.push(...faultyText(each));
      }
    }
    return { known, lacking };
  },
});

/** The key of the plan that names a neighbour, where findings about it stand. */
export const namedAt = (plan: Plan, { reference }: Neighbour): Span =>
  plan.alongside.find(({ value }) => value === reference)?.span ?? plan.titleSpan;
