import { expect, test } from 'vitest';
import { tellOutOfReach, tellRule } from '../server/src/review/tell.ts';
import { QUESTIONS } from '../server/src/rulebook/rule.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { call, EVENING } from './support/command-line.ts';
import { glossaryKeys, glossaryTable } from './support/glossary.ts';
import { inProject, readProject } from './support/project.ts';
import { ruleExamples } from './support/rule-examples.ts';

/**
 * Files and parts of files that are made from others. `npm run gen` writes them; here they are compared, so that a
 * stale one fails.
 */

/** A document with the text between a pair of markers replaced. */
const between = (document: string, name: string, text: string): string => {
  const markers = new RegExp(`(<!-- ${name}: made by npm run gen -->\\n)[\\s\\S]*?(<!-- end of ${name} -->)`);
  expect(document, `the markers of "${name}" are missing`).toMatch(markers);
  return document.replace(markers, (_, open: string, close: string) => `${open}\n${text}\n\n${close}`);
};

const ruleTable = (): string =>
  QUESTIONS.flatMap((question) => {
    const own = RULES.filter((rule) => rule.question === question);
    if (own.length === 0) return [];
    return [`**${question}**`, '', ...own.map((rule) => `- \`${rule.id}\`: ${rule.title}`), ''];
  })
    .join('\n')
    .trimEnd();

test('RULES.md holds the teaching page of every rule, with an example and what is said of it', async () => {
  const pages: string[] = [];
  for (const rule of RULES) pages.push(tellRule(rule, '##'), await ruleExamples(rule));
  const page = [
    '# The rules',
    '',
    'Made from the rules by `npm run gen`. `waywarden tell RULE` prints the same text.',
    'An example shows only the part of a plan that matters; the rest of the plan is sound.',
    '',
    ...pages,
    tellOutOfReach(),
  ].join('\n');
  await expect(page).toMatchFileSnapshot(inProject('server/RULES.md'));
});

/** What the command line really prints of a sample, from the first finding to the margins. */
const seenByPilot = async (): Promise<string> => {
  const { out } = await call(['check', '--now', EVENING, inProject('samples/missions/over-the-gap.mission.yaml')]);
  const findings = out.slice(out.indexOf('  stop'), out.indexOf('\n\n  tightest margins'));
  return `\`\`\`text\n${findings}\n\`\`\``;
};

test('the README shows what a pilot sees, and lists the rules by the question a pilot asks', async () => {
  const seen = between(readProject('README.md'), 'seen', await seenByPilot());
  const page = between(seen, 'rules', ruleTable());
  await expect(page).toMatchFileSnapshot(inProject('README.md'));
});

test('DEVELOPERS.md has the glossary of keys, each with its origin', async () => {
  const page = between(readProject('DEVELOPERS.md'), 'glossary', glossaryTable());
  await expect(page).toMatchFileSnapshot(inProject('DEVELOPERS.md'));
  const silent = glossaryKeys().filter(({ origin, description }) => origin === '' || description === '');
  expect(silent.map(({ document, path }) => `${document} ${path}`)).toEqual([]);
});
