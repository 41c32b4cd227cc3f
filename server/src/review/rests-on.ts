import { ageAt } from '../facts/data-age.ts';
import { isOfReference, sourceReferences } from '../facts/sources-of-plan.ts';
import type { Plan } from '../plan/model.ts';
import type { Need, Rule } from '../rulebook/rule.ts';
import { sayCount, sayList, sayNumber } from '../units/say.ts';
import type { Provenance } from '../world/world.ts';

/** The references of a plan that answer a need. */
const referencesFor = (need: Need, plan: Plan): readonly string[] => {
  if (need === 'aircraft') return plan.aircraft === undefined ? [] : [plan.aircraft.value];
  return sourceReferences(plan).flatMap(({ kind, reference }) => (kind === need ? [reference.value] : []));
};

/** "lakes.tif (edition 2027-01, 12 days old at take-off)" */
export const sayEdition = (source: Provenance, plan: Plan): string => {
  const from = plan.window?.from?.value.at;
  const age = from === undefined ? undefined : ageAt(source, from);
  const old = age === undefined ? '' : `, ${sayNumber(Math.max(0, age), 0)} days old at take-off`;
  return `${source.name} (edition ${source.edition}${old})`;
};

/** What groups the sources of one reference: a tile of a folder stands under the folder. */
const underOne = (reference: string, sources: readonly Provenance[], plan: Plan): string => {
  const [first, ...more] = sources;
  if (first === undefined) return '';
  if (more.length === 0) return sayEdition(first, plan);
  const editions = [...new Set(sources.map(({ edition }) => edition))];
  const said = editions.length === 1 ? `edition ${first.edition}` : `${sayCount(editions.length, 'edition')}`;
  return `${reference} (${sayCount(sources.length, 'file')}, ${said}${sayOldest(sources, plan)})`;
};

const agesOf = (sources: readonly Provenance[], plan: Plan): readonly number[] => {
  const from = plan.window?.from?.value.at;
  if (from === undefined) return [];
  return sources.flatMap((source) => ageAt(source, from) ?? []);
};

const sayOldest = (sources: readonly Provenance[], plan: Plan): string => {
  const ages = agesOf(sources, plan);
  return ages.length === 0 ? '' : `, the oldest ${sayNumber(Math.max(0, ...ages), 0)} days old at take-off`;
};

/** So many references are named in a row of the matrix; more are counted, and the list of data has them all. */
const NAMED = 2;

/**
 * The sources that a rule's verdict rests on: "; on lakes.tif (edition 2027-01, 12 days old at take-off)". Of many files
 * the number and the age of the oldest. Empty for a rule that needs none.
 */
export const restsOn = (rule: Rule, plan: Plan, data: readonly Provenance[]): string => {
  const references = [...new Set(rule.needs.flatMap((need) => referencesFor(need, plan)))];
  const groups = references
    .map((reference) => ({ reference, sources: data.filter((source) => isOfReference(source, reference)) }))
    .filter(({ sources }) => sources.length > 0);
  if (groups.length === 0) return '';
  if (groups.length <= NAMED) {
    return `; on ${sayList(groups.map(({ reference, sources }) => underOne(reference, sources, plan)))}`;
  }
  const all = [...new Set(groups.flatMap(({ sources }) => sources))];
  return `; on ${sayCount(all.length, 'data file')}${sayOldest(all, plan)}`;
};
