import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { Edit } from './finding.ts';

/** An edit that puts a new top-level key into a plan, as a line of its own at the end of the head. */
export const newKey = (plan: Plan, line: string): Edit => ({ span: plan.headEnd, text: `${line}${plan.eol}` });

/** An edit that replaces a scalar. */
export const replace = (span: Span, text: string): Edit => ({ span, text });
