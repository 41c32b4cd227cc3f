import { CAUTION, tellRule } from '../review/tell.ts';
import { RULES } from '../rules/index.generated.ts';

/** Addresses of the teaching pages, which this program writes itself: nothing is fetched. */
export const RULE_SCHEME = 'waywarden-rule';

/** The page of a rule, as an editor opens it: a read-only Markdown document. */
export const pageOfRule = (id: string): string => `${RULE_SCHEME}:/${id}.md`;

/** The text of a page; undefined for an address that is no rule's. */
export const textOfPage = (uri: string): string | undefined => {
  const id = /^waywarden-rule:\/*([a-z0-9-]+)\.md$/.exec(uri)?.[1];
  const rule = RULES.find((each) => each.id === id);
  return rule === undefined ? undefined : `${tellRule(rule)}\n\n${CAUTION}\n`;
};
