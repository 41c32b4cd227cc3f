import { nearestWord } from '../plan/scalars/nearest-word.ts';
import { CAUTION, tellAll, tellRule } from '../review/tell.ts';
import { isAcceptable, levelUnder, type Rule } from '../rulebook/rule.ts';
import { RULE_SET_IDS } from '../rulebook/rule-set.ts';
import { RULES } from '../rules/index.generated.ts';
import { once, splitArguments, UsageError } from './arguments.ts';
import { jsonText } from './formats/json.ts';

/** `waywarden tell [RULE]` */
export const tell = (given: readonly string[]): string => {
  const [id, ...more] = splitArguments(given, new Set()).words;
  if (more.length > 0) throw new UsageError('tell takes one rule');
  if (id === undefined) return `${tellAll(RULES)}\n`;
  const rule = RULES.find((known) => known.id === id);
  if (rule !== undefined) return `${tellRule(rule)}\n${CAUTION}\n`;
  const near = nearestWord(
    id,
    RULES.map((known) => known.id),
  );
  throw new UsageError(`there is no rule ${JSON.stringify(id)}${near === undefined ? '' : `; did you mean ${near}?`}`);
};

const levelsOf = (rule: Rule): Readonly<Record<string, string>> =>
  Object.fromEntries(
    RULE_SET_IDS.flatMap((id) => {
      const level = levelUnder(rule, id);
      return level === undefined ? [] : [[id, level]];
    }),
  );

const ruleObject = (rule: Rule) => ({
  id: rule.id,
  title: rule.title,
  question: rule.question,
  level: levelsOf(rule),
  ruleSets: Object.keys(levelsOf(rule)),
  needs: rule.needs,
  sources: rule.sources,
  acceptable: isAcceptable(rule),
  waivable: rule.waivable ?? [],
});

/** `waywarden rules [--format text|json]` */
export const rules = (given: readonly string[]): string => {
  const split = splitArguments(given, new Set(['--format']));
  if (split.words.length > 0) throw new UsageError('rules takes no names; tell RULE explains one');
  const format = once(split, '--format') ?? 'text';
  if (format === 'json') return jsonText(RULES.map(ruleObject));
  if (format !== 'text') throw new UsageError(`rules prints text or json, not ${JSON.stringify(format)}`);
  const width = Math.max(...RULES.map((rule) => rule.id.length));
  return RULES.map((rule) => `${rule.id.padEnd(width)}  ${rule.title}\n`).join('');
};
