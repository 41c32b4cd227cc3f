import type { Item, WrittenHeight } from '../plan/model.ts';
import { aboveSea, type MetresAboveSea } from '../units/frames.ts';
import { elevationGap } from './elevation-gap.ts';
import type { FactTools } from './fact.ts';
import { orLacking } from './lacking.ts';

/**
 * An altitude for questions of what lies between two places. What is written above take-off counts from the terrain where
 * the plan's own elevation contradicts that: the slip has a finding of its own, and is not to come back as a hill in the
 * line of sight or on the way home.
 */
export const settled = (
  altitude: MetresAboveSea,
  written: WrittenHeight | undefined,
  first: Item,
  tools: FactTools,
): MetresAboveSea => {
  if (written?.datum !== 'above take-off') return altitude;
  const gap = orLacking(() => elevationGap(first, tools));
  return 'missing' in gap || gap.known === undefined ? altitude : aboveSea(altitude - gap.known.by);
};
