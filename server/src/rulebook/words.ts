import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Edit } from './finding.ts';

/** An edit that puts a new top-level key into a plan, at the end of the head. */
export const newKey = (plan: Plan, entry: string): Edit => ({
  span: plan.headEnd,
  text: `${plan.headEntry.before}${entry}${plan.headEntry.after}`,
});

/** An edit that replaces a scalar. */
export const replace = (span: Span, text: string): Edit => ({ span, text });

/** A word as it is put into a plan: in quotes where YAML could take it for anything but this word. */
export const inPlainText = (word: string): string =>
  /^[A-Za-z0-9](?:[A-Za-z0-9 ._/-]*[A-Za-z0-9])?$/.test(word) ? word : JSON.stringify(word);
