import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type PlanDocument, readPlan, readPlanDocument } from '../../server/src/plan/read.ts';
import { Memory } from '../../server/src/review/memory.ts';
import type { Review } from '../../server/src/review/outcome.ts';
import { type ReviewInput, review, reviewSteps } from '../../server/src/review/review.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import { endOf, type Span, startOf } from '../../server/src/text/span.ts';
import { type FixtureWorld, prepareFixture } from '../support/fixture-world.ts';
import { readProject } from '../support/project.ts';

const HEAD = readProject('test/support/standard-head.yaml').split('route:')[0] ?? '';

const START = `${HEAD}route:
  - take-off: home
    climb-to: 60 m AGL
  - point: bank
    at: 47.5010, -120.4990
    altitude: 60 m AGL
    leg: { speed: 8 m/s over ground }
  - survey: reeds
    inside: { circle: 50 m, around: { lat: 47.5003, lon: -120.4985 } }
    altitude: 60 m above take-off
    course: 90 deg
    overlap: { front: 75 %, side: 45 % }
    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, focal-length: 8.8 mm }
    speed: 6 m/s over ground
  - circle: tower
    around: 47.5006, -120.4992
    radius: 15 m
    turns: 1
    sides: 6
    altitude: 50 m AGL
    speed: 4 m/s over ground
  - land: home
`;

/** Each edit is made on top of those before it. */
const EDITS: readonly (readonly [string, string])[] = [
  ['altitude: 60 m AGL', 'altitude: 64 m AGL'],
  ['side: 45 %', 'side: 60 %'],
  ['title: Standard', 'title: Another and a longer'],
  ['altitude: 60 m above', 'altitude: 130 m above'],
  ['course: 90 deg', 'course: 15'],
  ['course: 15', 'course: 15 deg'],
  ['elevation: 400 m', 'elevation: 420 m'],
  ['survey: reeds', 'survey: sedges'],
  ['circle: 50 m', 'circle: 30 m'],
  ['radius: 15 m', 'radius: 0 m'],
  ['radius: 0 m', 'radius: 12 m'],
  ['  - point: bank', '  - point: first\n    at: 47.5002, -120.4995\n    altitude: 60 m AGL\n  - point: bank'],
];

/** All of a review as text, with places as offsets in the document. */
const told = ({ plan: _, settings: __, ...found }: Review): unknown =>
  JSON.parse(
    JSON.stringify(found, (_key, value: unknown) => {
      if (typeof value !== 'object' || value === null || !('anchor' in value)) return value;
      const span = value as Span;
      return `${span.anchor.document} ${startOf(span)} to ${endOf(span)}`;
    }),
  );

describe('a plan with patterns, edit by edit', () => {
  let input: ReviewInput;

  beforeAll(async () => {
    const world: FixtureWorld = {
      ...(parse(readProject('test/support/standard-world.yaml')) as FixtureWorld),
      ground: { valley: { floor: '350 m', rim: '410 m', middle: -120.4985, 'half-width': 0.001 } },
    };
    input = (await prepareFixture(START, world)).input;
  });

  test('is judged as if it were new, and legs that an edit did not touch are not judged again', () => {
    let looked = 0;
    const rules = RULES.map((rule) => {
      if (rule.visits !== 'leg') return rule;
      const check: typeof rule.check = (leg, tools) => {
        looked++;
        return rule.check(leg, tools);
      };
      return { ...rule, check };
    });
    const memory = new Memory();
    let text = START;
    let document: PlanDocument | undefined;
    const looks: number[] = [];
    for (const [from, to] of [['', ''] as const, ...EDITS]) {
      expect(text, from).toContain(from);
      text = text.replace(from, to);
      document = readPlanDocument(text, '/plans/flight.mission.yaml', document);
      const all = reviewSteps({ ...input, plan: document.plan, rules }, memory);
      looked = 0;
      let step = all.next();
      while (step.done !== true) step = all.next();
      looks.push(looked);
      const cold = review({ ...input, plan: readPlan(text, '/plans/flight.mission.yaml') });
      expect(cold.gaps.filter(({ kind }) => kind === 'fault')).toEqual([]);
      expect(told(step.value), `after ${from} became ${to}`).toEqual(told(cold));
    }
    // The first edit changes the point before the survey: the legs inside the survey and the circle stay.
    const [first = 0, second = 0] = looks;
    expect(first).toBeGreaterThan(0);
    expect(second).toBeLessThan(first / 2);
  });
});
