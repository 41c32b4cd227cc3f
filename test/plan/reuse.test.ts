import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type PlanDocument, readPlan, readPlanDocument } from '../../server/src/plan/read.ts';
import { SAMPLE_PLAN } from '../support/sample-plan.ts';

type Edit = readonly [at: number, put: string, cut: number];

const applied = (text: string, [at, put, cut]: Edit): string => {
  const from = at % (text.length + 1);
  return text.slice(0, from) + put + text.slice(from + cut);
};

const POINT = '  - point: extra\n    at: 47.5, -120.4\n    altitude: 30 m AGL\n';

test('after any series of edits, reading on from the last reading gives what reading anew gives', () => {
  const put = fc.constantFrom(
    '',
    'x',
    '\n',
    ' ',
    '"',
    '{',
    ']',
    '- ',
    ': ',
    '#',
    '\n---\n',
    'route:\n',
    POINT,
    POINT.replace('extra', 'home'),
    '\r',
  );
  const edits = fc.array(fc.tuple(fc.nat(), put, fc.constantFrom(0, 0, 1, 1, 5, 80)), { minLength: 1, maxLength: 12 });
  let kept = 0;
  fc.assert(
    fc.property(edits, (script) => {
      let text = SAMPLE_PLAN;
      let document: PlanDocument = readPlanDocument(text, 'plan');
      for (const edit of script) {
        text = applied(text, edit);
        const before = new Set(document.plan.items);
        document = readPlanDocument(text, 'plan', document);
        kept += document.plan.items.filter((item) => before.has(item)).length;
        expect(document.plan, JSON.stringify(text)).toEqual(readPlan(text, 'plan'));
      }
    }),
    { numRuns: 60, seed: 11 },
  );
  // So that the comparison says something: items were indeed taken over.
  expect(kept).toBeGreaterThan(200);
});

test('an edit of one item keeps the others and the legs between them as they are', () => {
  const before = readPlanDocument(SAMPLE_PLAN, 'plan');
  const items = [...before.plan.items];
  const legs = [...(before.plan.flights[0]?.legs ?? [])];
  const after = readPlanDocument(SAMPLE_PLAN.replace('60 m AGL', '600 m AGL'), 'plan', before);
  expect(after.plan.items.map((item) => items.indexOf(item))).toEqual([0, -1, 2, 3]);
  expect(after.plan.flights[0]?.legs.map((leg) => legs.indexOf(leg))).toEqual([-1, -1, 2]);
});

test('items of one text are each their own, wherever they stand', () => {
  const text = `mission: 1\ntitle: a\npurpose: b\nroute:\n${'- hold: 1 s\n'.repeat(3)}`;
  const first = readPlanDocument(text, 'plan');
  const second = readPlanDocument(`${text}- hold: 1 s\n`, 'plan', first);
  expect(new Set(second.plan.items).size).toBe(4);
  expect(second.plan.items.map(({ span }) => span.anchor.at)).toEqual([38, 50, 62, 74]);
});
