import type { RuleTools } from '../rulebook/rule.ts';
import type { Known } from './input-parts.ts';
import { Memory } from './memory.ts';

/** Answers facts for one plan and world, for whoever is not a review. */
export const memo = (known: Known): RuleTools => new Memory().begin(known);
