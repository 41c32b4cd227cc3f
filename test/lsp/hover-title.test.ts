import { expect, test } from 'vitest';
import { tellTitle } from '../../server/src/lsp/hover-title.ts';
import { parseWorld } from '../support/fixture-world.ts';
import { judgeText } from '../support/judge-text.ts';
import { standardHead, standardWorld } from '../support/rule-examples.ts';

test('the hover of the title tells how many rules are in which state, and what was found or not assessed', async () => {
  const text = standardHead()
    .replace('altitude: 60 m AGL', 'altitude: 130 m AGL')
    .replace(/^weather:.*\n/m, '');
  const review = await judgeText(text, parseWorld('', standardWorld()));
  const said = tellTitle({ review, findings: review.findings, gaps: review.gaps });
  expect(said).toContain(
    'Judged by the rules for small unmanned aircraft in the United States (14 CFR part 107), read up to 2026-11-25',
  );
  expect(said).toContain('- `point-above-height-limit`: ');
  expect(said).toContain('- `visibility-below-minimum`: ');
  // Nothing is left out: the counts of the states add up to all rules.
  const [, all, states] = /Of (\d+) rules: (.*)\./.exec(said) ?? [];
  const counts = [...(states ?? '').matchAll(/(\d+)/g)].map(([count]) => Number(count));
  expect(counts.reduce((sum, count) => sum + count, 0)).toBe(Number(all));
  expect(Number(all)).toBe(review.matrix.length);
});

test('where nothing has been judged the title tells nothing of it', () => {
  expect(tellTitle({ findings: [], gaps: [] })).toBe('');
});
