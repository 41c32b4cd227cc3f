import { expect, test } from 'vitest';
import { filesBelow, inProject } from './support/project.ts';

/**
 * The index of the rules is made from their file names alone: this file must not load what it makes, or a rule that is
 * gone could never be taken out of it.
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
