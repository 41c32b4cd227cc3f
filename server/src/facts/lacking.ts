import type { Missing } from '../world/world.ts';
import { NotAssessed } from './fact.ts';

/**
 * An answer that holds for what is known, with what was lacking for the rest. A rule judges the known part first and
 * then calls `requireWhole`, so that a breach in the known part is told and the unknown part becomes a gap.
 */
export interface Partly {
  readonly lacking: readonly Missing[];
}

/** Nothing, or `NotAssessed` with the first reason why the answer is not whole. */
export const requireWhole = (answer: Partly): void => {
  const [first] = answer.lacking;
  if (first !== undefined) throw new NotAssessed(first.missing, first.due);
};

/** The answer, or what was lacking for it. Errors of other kinds pass through. */
export const orLacking = <T>(derive: () => T): { readonly known: T } | Missing => {
  try {
    return { known: derive() };
  } catch (error) {
    if (!(error instanceof NotAssessed)) throw error;
    return error.due === undefined ? { missing: error.message } : { missing: error.message, due: error.due };
  }
};
