import { tellRule } from '../review/tell.ts';
import type { Finding } from '../rulebook/finding.ts';
import type { Rule } from '../rulebook/rule.ts';
import { sayLimit, sayMeasure } from '../rulebook/say-measure.ts';
import { RULES } from '../rules/index.generated.ts';
import { sayPosition } from '../units/say.ts';
import { escapeMarkdown } from './markdown.ts';

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map((rule) => [rule.id, rule]));

const sayNumbers = ({ measured, limit }: Finding): string => {
  if (measured === undefined) return '';
  const found = `Found: **${sayMeasure(measured, limit)}**`;
  if (limit === undefined) return found;
  return `${found}. Limit: **${sayLimit(limit)}**, set by ${escapeMarkdown(limit.setBy)}`;
};

const sayPlace = ({ place }: Finding): string => {
  if (place === undefined) return '';
  const along = place.alongM === undefined ? '' : `, ${place.alongM.toFixed(0)} m from the start of the leg`;
  return `Where: ${sayPosition(place.at)}${along}`;
};

/**
 * What a finding's hover adds to its message, which the client shows beside it: the numbers in both systems, why the
 * rule exists, how to mend the plan, and who says so.
 */
export const tellFinding = (finding: Finding): string => {
  const rule = byId.get(finding.rule);
  const title = rule === undefined ? '' : `: ${rule.title}`;
  const numbers = [sayNumbers(finding), sayPlace(finding)].filter((line) => line !== '');
  return [
    `**${finding.level}** \`${finding.rule}\`${title}`,
    ...(numbers.length === 0 ? [] : [numbers.join('  \n')]),
    ...(rule === undefined ? [] : [rule.why, `To mend: ${rule.mend}`]),
    ...(finding.sources.length === 0 ? [] : [`Source: ${escapeMarkdown(finding.sources.join('; '))}`]),
  ].join('\n\n');
};

/** The whole page of a rule, where a plan names it; undefined for a name that is no rule's. */
export const tellNamedRule = (id: string): string | undefined => {
  const rule = byId.get(id);
  return rule === undefined ? undefined : tellRule(rule, '###');
};
