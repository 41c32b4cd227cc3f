import type { Rule } from '../rulebook/rule.ts';

export const RULES: readonly Rule[] = [];
