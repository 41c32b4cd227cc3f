import { expect, test } from 'vitest';
import { tellRule } from '../server/src/review/tell.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import { filesBelow, inProject, readProject } from './support/project.ts';

/**
 * Files made from others. `npm run gen` writes them; here they are compared, so that a stale one fails.
 */

const ruleIds = filesBelow('server/src/rules')
  .filter((path) => path.endsWith('.ts') && !path.endsWith('.generated.ts'))
  .map((path) => path.replace(/^server\/src\/rules\//, '').replace(/\.ts$/, ''));

const camel = (id: string): string => id.replace(/-([a-z0-9])/g, (_, letter: string) => letter.toUpperCase());

const ruleIndex = (): string =>
  [
    '// Made from the file names by `npm run gen`. A rule is named by its file.',
    "import type { Rule } from '../rulebook/rule.ts';",
    ...ruleIds.map((id) => `import ${camel(id)} from './${id}.ts';`),
    '',
    'export const RULES: readonly Rule[] = [',
    ...ruleIds.map((id) => `  { id: '${id}', ...${camel(id)} },`),
    '];',
    '',
  ].join('\n');

test('the index lists every rule file', async () => {
  await expect(ruleIndex()).toMatchFileSnapshot(inProject('server/src/rules/index.generated.ts'));
});

test('RULES.md holds the teaching page of every rule', async () => {
  const page = [
    '# The rules',
    '',
    'Made from the rules by `npm run gen`. `waywarden tell RULE` prints the same text.',
    '',
    ...RULES.map((rule) => tellRule(rule, '##')),
  ].join('\n');
  await expect(page).toMatchFileSnapshot(inProject('server/RULES.md'));
});

test('the README lists the rules', () => {
  const readme = readProject('README.md');
  for (const { id } of RULES) expect(readme, `README.md does not name ${id}`).toContain(`\`${id}\``);
});
