import { expect, test } from 'vitest';
import { applyFixes, bulkFixes } from '../../server/src/review/mend.ts';
import type { Finding, Fix } from '../../server/src/rulebook/finding.ts';

const TEXT = 'speed: 8\ntitel: hills\n';
const anchor = { document: 'plan', at: 0 };
const fix = (from: number, to: number, text: string, effect: Fix['effect'] = 'same-flight'): Fix => ({
  title: text,
  effect,
  edits: [{ span: { anchor, from, to }, text }],
});
const finding = (fixes: readonly Fix[]): Finding => ({
  rule: 'a-rule',
  level: 'stop',
  at: { anchor, from: 0, to: 1 },
  subject: 'the plan',
  message: 'the plan is odd',
  fingerprint: '0',
  count: 1,
  sources: [],
  fixes,
});

test('fixes that lie apart are all made, whatever their order, and other bytes stay', () => {
  const fixes = [fix(9, 14, 'title'), fix(7, 8, '8 m/s'), fix(22, 22, 'mission: 1\n')];
  expect(applyFixes(TEXT, 'plan', fixes)).toMatchObject({ text: 'speed: 8 m/s\ntitle: hills\nmission: 1\n', left: [] });
});

test('of fixes that overlap or touch only the first is made', () => {
  const [first, over, beside] = [fix(9, 14, 'title'), fix(12, 16, 'x'), fix(14, 14, 's')];
  const mended = applyFixes(TEXT, 'plan', [first, over, beside]);
  expect(mended.text).toBe('speed: 8\ntitle: hills\n');
  expect(mended.left).toEqual([over, beside]);
});

test('a fix is made whole or not at all', () => {
  const both: Fix = { ...fix(7, 8, '8 kt'), edits: [...fix(7, 8, '8 kt').edits, ...fix(9, 14, 'name').edits] };
  const mended = applyFixes(TEXT, 'plan', [fix(9, 14, 'title'), both]);
  expect(mended.text).toBe('speed: 8\ntitle: hills\n');
  expect(mended.left).toEqual([both]);
});

test('the same fix told by two findings is made once', () => {
  expect(applyFixes(TEXT, 'plan', [fix(9, 14, 'title'), fix(9, 14, 'title')])).toMatchObject({
    text: 'speed: 8\ntitle: hills\n',
    left: [],
  });
});

test('a fix that reaches into another document is left out', () => {
  const [edit] = fix(0, 0, 'x').edits;
  const elsewhere: Fix = {
    ...fix(0, 0, 'x'),
    edits: edit === undefined ? [] : [{ ...edit, span: { ...edit.span, anchor: { document: 'craft', at: 0 } } }],
  };
  expect(applyFixes(TEXT, 'plan', [elsewhere])).toMatchObject({ text: TEXT, left: [elsewhere] });
});

test('spans move with the block they count from', () => {
  const moved: Fix = {
    ...fix(0, 5, 'title'),
    edits: [{ span: { anchor: { document: 'plan', at: 9 }, from: 0, to: 5 }, text: 'title' }],
  };
  expect(applyFixes(TEXT, 'plan', [moved]).text).toBe('speed: 8\ntitle: hills\n');
});

test('in bulk go only fixes that are the only one of their finding and leave the flight as it is', () => {
  const typo = fix(9, 14, 'title');
  const lower = fix(7, 8, '5', 'changes-flight');
  expect(bulkFixes([finding([typo]), finding([lower]), finding([fix(7, 8, '8 m/s'), fix(7, 8, '8 kt')])])).toEqual([
    typo,
  ]);
});
