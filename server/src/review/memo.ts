import { type Ask, type Fact, type FactTools, NotAssessed } from '../facts/fact.ts';

type Entry = { readonly value: unknown } | { readonly thrown: unknown } | 'deriving';

/**
 * Answers facts and keeps the answers, for one review: a stale fact cannot outlive its text. A fact that lacks data
 * throws the same `NotAssessed` to everyone who asks. A fact that needs itself is our own mistake and says so.
 */
export const memo = (rest: Omit<FactTools, 'ask'>): FactTools => {
  const answers = new WeakMap<object, Map<unknown, Entry>>();
  const ask: Ask = <Of extends object, T>(fact: Fact<Of, T>, of: Of): T => {
    let known = answers.get(of);
    if (known === undefined) {
      known = new Map();
      answers.set(of, known);
    }
    const entry = known.get(fact);
    if (entry === undefined) {
      known.set(fact, 'deriving');
      try {
        const value = fact.derive(of, tools);
        known.set(fact, { value });
        return value;
      } catch (thrown) {
        known.set(fact, { thrown });
        throw thrown;
      }
    }
    if (entry === 'deriving') throw new Error(`the fact "${fact.name}" needs itself`);
    if ('thrown' in entry) throw entry.thrown;
    return entry.value as T;
  };
  const tools: FactTools = { ...rest, ask };
  return tools;
};

export { NotAssessed };
