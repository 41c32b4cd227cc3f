import { MATRIX_STATES, type MatrixRow } from '../review/outcome.ts';
import { RULE_SETS } from '../rulebook/rule-set.ts';
import { sayCount } from '../units/say.ts';
import { sayStanding, standingOf } from './glance/totals.ts';
import type { Judgement } from './judgement.ts';
import { escapeMarkdown } from './markdown.ts';

/** How many rules of a state are named; the rest are counted. */
const NAMED = 12;

const nameThem = (title: string, rows: readonly MatrixRow[]): readonly string[] => {
  if (rows.length === 0) return [];
  const named = rows.slice(0, NAMED).map(({ rule, because }) => `- \`${rule}\`: ${escapeMarkdown(because)}`);
  const more = rows.length > NAMED ? [`- and ${rows.length - NAMED} more`] : [];
  return [[`${title}:`, ...named, ...more].join('\n')];
};

/**
 * The matrix of the whole plan, for the hover of its title: how it stands, how many rules are in which state, and by name
 * those that were found and those that were not assessed. Empty where nothing has been judged.
 */
export const tellTitle = (judgement: Pick<Judgement, 'review' | 'findings' | 'gaps'>): string => {
  const { review } = judgement;
  if (review === undefined) return '';
  const { matrix, ruleSet } = review;
  const inState = (state: MatrixRow['state']): readonly MatrixRow[] => matrix.filter((row) => row.state === state);
  const counts = MATRIX_STATES.flatMap((state) => {
    const count = inState(state).length;
    return count === 0 ? [] : [`${state} ${count}`];
  });
  const by =
    ruleSet === undefined
      ? 'The rule set is not known'
      : `Judged by the rules for ${RULE_SETS[ruleSet].name}, read up to ${RULE_SETS[ruleSet].edition}`;
  return [
    `**${sayStanding(standingOf(judgement))}**`,
    `${by}. Of ${sayCount(matrix.length, 'rule')}: ${counts.join(', ')}.`,
    ...nameThem('Found', inState('found')),
    ...nameThem('Not assessed', inState('not-assessed')),
  ].join('\n\n');
};
