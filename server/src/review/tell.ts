import type { Level } from '../rulebook/finding.ts';
import { OUT_OF_REACH } from '../rulebook/out-of-reach.ts';
import { isAcceptable, QUESTIONS, type Rule, type Source } from '../rulebook/rule.ts';
import { RULE_SETS, type RuleSetId } from '../rulebook/rule-set.ts';

/** The caution that stands once on every page and report. */
export const CAUTION =
  'Waywarden advises. The rules in force, the aviation authority, the manufacturer’s manual and the licensed remote pilot decide.';

const sayLevel = (rule: Rule): string => {
  if (typeof rule.level === 'string') return `${rule.level}, for every kind of flight`;
  return (Object.entries(rule.level) as [RuleSetId, Level][]).map(([id, level]) => `${level} under ${id}`).join('; ');
};

const saySource = (source: Source): string => {
  const sets = source.for === undefined ? '' : ` [${source.for.join(', ')}]`;
  const trust = source.trust === undefined ? '' : `, ${source.trust}`;
  return `${source.cite}${sets} (edition ${source.edition}${trust})`;
};

const sayLifting = (rule: Rule): string => {
  if (isAcceptable(rule)) return 'The crew may accept it in the plan: `accepts`, with a reason.';
  if (rule.waivable !== undefined)
    return `A waiver of ${rule.waivable.join(' or ')} can lift it, inside its own bounds; it cannot be accepted.`;
  if (rule.basis === 'law')
    return 'It cannot be accepted: law is lifted by an authorisation or another category only, where the law has one.';
  return 'It cannot be accepted; the plan has to be mended.';
};

/** What no rule can judge, in Markdown, for the end of RULES.md. */
export const tellOutOfReach = (heading = '##'): string =>
  [
    `${heading} Out of a plan’s reach`,
    '',
    'The law asks for these, too, and no plan can show them. They stand in every matrix as `out-of-reach`.',
    '',
    ...OUT_OF_REACH.map(
      (each) => `- \`${each.name}\` (${each.for.join(', ')}), ${each.cite}: ${each.asks}; ${each.why}`,
    ),
    '',
  ].join('\n');

/** A rule's teaching page in Markdown. Hover, `tell`, RULES.md and reports all print this text. */
export const tellRule = (rule: Rule, heading = '#'): string =>
  [
    `${heading} ${rule.id}`,
    '',
    `**${rule.title}** (${sayLevel(rule)})`,
    '',
    rule.why,
    '',
    `**Condition.** ${rule.condition}`,
    '',
    ...(rule.exceptions === undefined ? [] : [`**Exceptions.** ${rule.exceptions}`, '']),
    ...(rule.otherReading === undefined ? [] : [`**The other reading.** ${rule.otherReading}`, '']),
    `**To mend.** ${rule.mend} ${sayLifting(rule)}`,
    '',
    `**Source.** ${rule.sources.map(saySource).join('; ')}`,
    '',
  ].join('\n');

/** All rules by the question a pilot asks, for `tell` without a name. */
export const tellAll = (rules: readonly Rule[]): string =>
  [
    ...QUESTIONS.flatMap((question) => {
      const own = rules.filter((rule) => rule.question === question);
      return own.length === 0 ? [] : [question, ...own.map((rule) => `  ${rule.id}: ${rule.title}`), ''];
    }),
    'Out of a plan’s reach',
    ...OUT_OF_REACH.map(({ name, cite, asks, why }) => `  ${name}: ${asks} (${cite}); ${why}`),
    '',
    `Rule sets: ${Object.values(RULE_SETS)
      .map(({ id, edition }) => `${id} (read up to ${edition})`)
      .join(', ')}`,
    '',
    CAUTION,
  ].join('\n');
