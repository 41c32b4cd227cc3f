import { tellRule } from '../../review/tell.ts';
import type { Level } from '../../rulebook/finding.ts';
import { levelUnder, type Rule } from '../../rulebook/rule.ts';
import { RULES } from '../../rules/index.generated.ts';
import { NOT_ASSESSED, NOT_OPENED } from './told.ts';

export const SARIF_LEVELS: Readonly<Record<Level, 'error' | 'warning' | 'note'>> = {
  stop: 'error',
  caution: 'warning',
  note: 'note',
};

/** Stands for the findings that are beyond what a platform keeps. */
export const MORE_FINDINGS = 'more-findings';

interface OwnEntry {
  readonly title: string;
  readonly why: string;
  readonly mend: string;
}

/** Entries that no rule makes. */
const OWN: ReadonlyMap<string, OwnEntry> = new Map([
  [
    NOT_ASSESSED,
    {
      title: 'a check could not be made',
      why: 'Something that a rule needs is missing or could not be read. What was not assessed is not known to be in order.',
      mend: 'Supply what the message names; then the rules that it lists are judged.',
    },
  ],
  [
    NOT_OPENED,
    {
      title: 'a plan could not be opened or judged',
      why: 'The check is not complete: nothing is known about this plan.',
      mend: 'See to it that the file is there and can be read.',
    },
  ],
  [
    MORE_FINDINGS,
    {
      title: 'there are more findings than a platform keeps',
      why: 'Platforms keep the worst findings of a report only. The others are not shown here.',
      mend: 'Run the check with --format text or json to see all of them.',
    },
  ],
]);

const BY_ID = new Map(RULES.map((rule) => [rule.id, rule]));

const textOf = (markdown: string): string => markdown.replace(/^#+ /gm, '').replace(/\*\*|`/g, '');

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${text.endsWith('.') ? '' : '.'}`;

/** "leg-above-height-limit" -> "LegAboveHeightLimit", as viewers want a name beside the id. */
const nameOf = (id: string): string => id.replace(/(?:^|-)([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());

const ofRule = (rule: Rule) => {
  const markdown = tellRule(rule);
  return {
    id: rule.id,
    name: nameOf(rule.id),
    shortDescription: { text: sentence(rule.title) },
    fullDescription: { text: sentence(rule.condition) },
    help: { text: textOf(markdown), markdown },
    defaultConfiguration: { level: SARIF_LEVELS[levelUnder(rule, undefined) ?? 'stop'] },
    properties: { question: rule.question, basis: rule.basis },
  };
};

const ofOwn = (id: string, { title, why, mend }: OwnEntry) => ({
  id,
  name: nameOf(id),
  shortDescription: { text: sentence(title) },
  fullDescription: { text: why },
  help: { text: `${why} ${mend}`, markdown: `${why}\n\n**To mend.** ${mend}` },
  defaultConfiguration: { level: SARIF_LEVELS.stop },
});

/** The descriptors of the rules that a report names, in the order of their ids, with the help text of each. */
export const descriptorsOf = (ids: Iterable<string>): readonly { readonly id: string }[] =>
  [...new Set(ids)].sort().map((id) => {
    const rule = BY_ID.get(id);
    const own = OWN.get(id);
    if (rule !== undefined) return ofRule(rule);
    return ofOwn(id, own ?? { title: id, why: id, mend: 'See the message.' });
  });
