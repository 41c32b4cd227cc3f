import type { Review } from '../../server/src/review/outcome.ts';
import { review } from '../../server/src/review/review.ts';
import type { Rule } from '../../server/src/rulebook/rule.ts';
import { Lines } from '../../server/src/text/lines.ts';
import { endOf, startOf } from '../../server/src/text/span.ts';
import { type FixtureWorld, prepareFixture } from './fixture-world.ts';

/** Reviews a plan in a fixture's world by the way that the editor and the command line take. */
export const judgeText = async (text: string, world: FixtureWorld, rules?: readonly Rule[]): Promise<Review> => {
  const { input } = await prepareFixture(text, world);
  return review(rules === undefined ? input : { ...input, rules });
};

/** A finding in one line, for comparison: place, level, rule and message. */
export const inLines = (found: Review, text: string): readonly string[] => {
  const lines = new Lines(text);
  const at = (offset: number): string => {
    const { line, column } = lines.at(offset);
    return `${line + 1}:${column + 1}`;
  };
  return [
    ...found.findings.map(
      (finding) =>
        `${at(startOf(finding.at))}-${at(endOf(finding.at))} ${finding.level} ${finding.rule}: ${finding.message}`,
    ),
    ...found.gaps.map(
      (gap) => `${at(startOf(gap.at))} ? ${gap.level} ${gap.rule}: ${gap.reason} (${gap.kind}, ${gap.count})`,
    ),
    ...found.accepted.map(({ finding }) => `accepted ${finding.rule}: ${finding.message}`),
    ...found.lifted.map(({ finding, by }) => `lifted ${finding.rule} by ${by.name}: ${finding.message}`),
    ...found.matrix.map((row) => `${row.rule} = ${row.state}`),
  ];
};
