import type { Rule } from '../../server/src/rulebook/rule.ts';
import { parseFixture } from './fixture.ts';
import { parseWorld } from './fixture-world.ts';
import { judgeText } from './judge-text.ts';
import { readProject } from './project.ts';

export const standardHead = (): string => readProject('test/support/standard-head.yaml');
export const standardWorld = (): string => readProject('test/support/standard-world.yaml');

/** The whole plan of an example: its block over the standard head. */
export const composeExample = (block: string): string => {
  const flag = /^# (without=\S+)/.exec(block)?.[1] ?? '';
  const body = block.replace(/^# without=.*\n/, '');
  const [one] = parseFixture(`# example\n\n\`\`\`yaml plan ${flag}\n${body}\`\`\`\n`, standardHead(), standardWorld());
  if (one === undefined) throw new Error('the example is no block');
  return one.text;
};

const shown = (block: string): string => block.replace(/^# without=(.*)\n/, '# (the plan has no $1)\n');

/** The faulty example of a rule with the messages that it really gives, in Markdown. */
export const ruleExamples = async (rule: Rule): Promise<string> => {
  const { faulty, sound, world } = rule.example;
  const review = await judgeText(composeExample(faulty), parseWorld(world ?? '', standardWorld()));
  const said = [
    ...review.findings
      .filter((finding) => finding.rule === rule.id)
      .map(({ level, message }) => `${level}: ${message}`),
    ...review.gaps.filter((gap) => gap.rule === rule.id).map(({ reason }) => `not assessed: ${reason}`),
  ];
  const long = faulty.length > 2000;
  const block = (title: string, text: string): readonly string[] =>
    text.trim() === '' ? [] : [title, '', '```yaml', shown(text).trimEnd(), '```', ''];
  return [
    ...(long ? ['The example is too long to print.', ''] : block('Faulty:', faulty)),
    ...(world === undefined ? [] : block('In this world:', world)),
    ...said.map((line) => `> ${line}`),
    '',
    ...(long ? [] : block('Put right:', sound)),
  ].join('\n');
};
