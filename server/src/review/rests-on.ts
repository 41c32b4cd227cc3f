import { ageAt } from '../facts/data-age.ts';
import type { Plan } from '../plan/model.ts';
import type { Need, Rule } from '../rulebook/rule.ts';
import { sayList, sayNumber } from '../units/say.ts';
import type { Provenance } from '../world/world.ts';

/** The references of a plan that answer a need. */
const referencesFor = (need: Need, plan: Plan): readonly string[] => {
  const values = (list: readonly { readonly value: string }[]): readonly string[] => list.map(({ value }) => value);
  if (need === 'terrain') return values(plan.terrain);
  if (need === 'airspace') return values(plan.airspace);
  if (need === 'aircraft') return plan.aircraft === undefined ? [] : [plan.aircraft.value];
  if (need === 'obstacles') return plan.obstacles?.kind === 'list' ? values(plan.obstacles.files) : [];
  if (need === 'people') return values(plan.people?.files ?? []);
  return [];
};

/** A tile of a folder stands under the folder's reference. */
const isOf = (source: Provenance, reference: string): boolean =>
  source.name === reference || source.name.startsWith(`${reference.replace(/\/+$/, '')}/`);

/** "lakes.tif (edition 2027-01, 12 days old at take-off)" */
export const sayEdition = (source: Provenance, plan: Plan): string => {
  const from = plan.window?.from?.value.at;
  const age = from === undefined ? undefined : ageAt(source, from);
  const old = age === undefined ? '' : `, ${sayNumber(Math.max(0, age), 0)} days old at take-off`;
  return `${source.name} (edition ${source.edition}${old})`;
};

/**
 * The sources that a rule's verdict rests on, each with its edition and its age at take-off: "; on lakes.tif (edition
 * 2027-01, 12 days old at take-off)". Empty for a rule that needs none.
 */
export const restsOn = (rule: Rule, plan: Plan, data: readonly Provenance[]): string => {
  const references = rule.needs.flatMap((need) => referencesFor(need, plan));
  const sources = data.filter((source) => references.some((reference) => isOf(source, reference)));
  return sources.length === 0 ? '' : `; on ${sayList(sources.map((source) => sayEdition(source, plan)))}`;
};
