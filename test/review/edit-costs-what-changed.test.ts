import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type PlanDocument, readPlan, readPlanDocument } from '../../server/src/plan/read.ts';
import { Memory } from '../../server/src/review/memory.ts';
import type { Review } from '../../server/src/review/outcome.ts';
import { type ReviewInput, review, reviewSteps } from '../../server/src/review/review.ts';
import { RULES } from '../../server/src/rules/index.generated.ts';
import { endOf, type Span, startOf } from '../../server/src/text/span.ts';
import { instant } from '../../server/src/units/frames.ts';
import { type FixtureWorld, prepareFixture } from '../support/fixture-world.ts';
import { readProject } from '../support/project.ts';

const HEAD = readProject('test/support/standard-head.yaml').split('route:')[0] ?? '';

const point = (name: string, at: string, altitude: string, more = ''): string =>
  `  - point: ${name}\n    at: ${at}\n    altitude: ${altitude}\n${more}`;

const ROUTE: readonly string[] = [
  '  - take-off: home\n',
  point('a', '47.5010, -120.4990', '60 m AGL', '    hold: 20 s\n'),
  point('b', '47.5020, -120.4960', '470 m AMSL', '    leg: { speed: 8 m/s over ground }\n'),
  '  - area: roof\n    inside: { circle: 30 m, around: { lat: 47.5025, lon: -120.4950 } }\n    from: 20 m AGL\n    to: 40 m AGL\n    for: 2 min\n',
  '  - area: yard\n    inside: { circle: 25 m, around: { lat: 47.5030, lon: -120.4940 } }\n    from: 30 m above take-off\n    to: 60 m above take-off\n    for: 1 min\n',
  point('c', '47.5000, -120.4930', '118 m AGL', '    leg: { follows: 110 m AGL within 5 m }\n'),
  point('d', '47.4990, -120.4900', '80 m above take-off'),
  '  - hold: 30 s\n',
  point('e', '47.4985, -120.4950', '50 m AGL', '    leg: { speed: 12 m/s through air }\n'),
  '  - land: home\n',
];

const WORLD: FixtureWorld = {
  ...(parse(readProject('test/support/standard-world.yaml')) as FixtureWorld),
  ground: { valley: { floor: '350 m', rim: '430 m', middle: -120.494, 'half-width': 0.004 } },
  zones: [
    {
      id: 'reserve',
      name: 'Heron reserve',
      kind: 'restricted',
      floor: 'SFC',
      ceiling: '300 m AGL',
      circle: { at: [-120.4935, 47.5], radius: '120 m' },
    },
  ],
  obstacles: [{ name: 'mast', at: [-120.4965, 47.5018], top: '45 m AGL', radius: '3 m' }],
};

/** A change of the text, and now and then of what the text is judged by. */
type Step =
  | { readonly kind: 'swap' | 'drop' | 'double'; readonly at: number }
  | { readonly kind: 'item'; readonly at: number; readonly from: string; readonly to: string }
  | { readonly kind: 'head'; readonly from: string; readonly to: string }
  | { readonly kind: 'noise'; readonly at: number; readonly put: string; readonly cut: number }
  | { readonly kind: 'input'; readonly part: 'world' | 'settings' | 'clock' };

const ITEM_CHANGES: readonly (readonly [string, string])[] = [
  ['60 m AGL', '140 m AGL'],
  ['AGL', 'AMSL'],
  ['118 m', '125 m'],
  ['-120.49', '-120.494'],
  ['47.50', '47.502'],
  ['20 s', '20'],
  ['circle: 30 m', 'circle: 90 m'],
  ['altitude', 'altitud'],
  ['80 m', '8 m'],
  ['point: ', 'point: x'],
  ['follows: 110', 'follows: 119'],
];
const HEAD_CHANGES: readonly (readonly [string, string])[] = [
  ['speed: 3 m/s', 'speed: 11 m/s'],
  ['elevation: 400 m', 'elevation: 430 m'],
  ['stands: take-off', 'stands: { lat: 47.5030, lon: -120.49 }'],
  ['country: US', 'country: FR'],
  ['purpose: survey for a client', 'purpose: recreation'],
  ['visibility: 10 km', 'visibility: 700 m'],
  ['06:40 -07:00', '04:40 -07:00'],
  ['climb-to: 80 m', 'climb-to: 15 m'],
  ['none-above: 20 m', 'none-above: 60 m'],
  ['title: Standard', 'title: Another'],
  ['none-within: 500 m', 'none-within: 10 m'],
];

const steps: fc.Arbitrary<readonly Step[]> = fc.array(
  fc.oneof(
    {
      weight: 3,
      arbitrary: fc.record({
        kind: fc.constantFrom('swap' as const, 'drop' as const, 'double' as const),
        at: fc.nat(20),
      }),
    },
    {
      weight: 6,
      arbitrary: fc
        .tuple(fc.nat(20), fc.constantFrom(...ITEM_CHANGES), fc.boolean())
        .map(([at, [from, to], back]): Step => ({ kind: 'item', at, from: back ? to : from, to: back ? from : to })),
    },
    {
      weight: 3,
      arbitrary: fc
        .tuple(fc.constantFrom(...HEAD_CHANGES), fc.boolean())
        .map(([[from, to], back]): Step => ({ kind: 'head', from: back ? to : from, to: back ? from : to })),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('noise' as const),
        at: fc.nat(4000),
        put: fc.constantFrom('', ' ', '"', '\n', '{', '9'),
        cut: fc.nat(2),
      }),
    },
    {
      weight: 1,
      arbitrary: fc.record({
        kind: fc.constant('input' as const),
        part: fc.constantFrom('world' as const, 'settings' as const, 'clock' as const),
      }),
    },
  ),
  { minLength: 4, maxLength: 10 },
);

interface State {
  readonly head: string;
  readonly items: readonly string[];
  readonly noise?: Extract<Step, { kind: 'noise' }>;
  readonly world: number;
  readonly house: number;
  readonly clock: number;
}

const START: State = { head: HEAD, items: ROUTE, world: 0, house: 0, clock: 0 };

const after = (state: State, step: Step): State => {
  const { noise: _, ...quiet } = state;
  const { items, head } = state;
  if (step.kind === 'noise') return { ...quiet, noise: step };
  if (step.kind === 'input') {
    if (step.part === 'world') return { ...quiet, world: 1 - state.world };
    return step.part === 'settings' ? { ...quiet, house: 1 - state.house } : { ...quiet, clock: state.clock + 1 };
  }
  if (step.kind === 'head') return { ...quiet, head: head.replace(step.from, step.to) };
  const at = step.at % items.length;
  const here = items[at] ?? '';
  if (step.kind === 'item') return { ...quiet, items: items.with(at, here.replace(step.from, step.to)) };
  if (step.kind === 'drop') return { ...quiet, items: items.length > 3 ? items.toSpliced(at, 1) : items };
  if (step.kind === 'double') return { ...quiet, items: items.toSpliced(at, 0, here.replace(/: (\w+)/, ': $1-too')) };
  const next = (at + 1) % items.length;
  return { ...quiet, items: items.with(at, items[next] ?? '').with(next, here) };
};

const textOf = ({ head, items, noise }: State): string => {
  const text = `${head}route:\n${items.join('')}`;
  if (noise === undefined) return text;
  const at = noise.at % text.length;
  return text.slice(0, at) + noise.put + text.slice(at + noise.cut);
};

/** All of a review as text, with places as offsets in the document. */
const told = ({ plan: _, settings: __, ...found }: Review): unknown =>
  JSON.parse(
    JSON.stringify(found, (key, value: unknown) => {
      if (key === 'by' && typeof value === 'object' && value !== null && 'item' in value)
        return { ...value, item: 'its item' };
      if (typeof value !== 'object' || value === null || !('anchor' in value)) return value;
      const span = value as Span;
      return `${span.anchor.document} ${startOf(span)} to ${endOf(span)}`;
    }),
  );

const drained = (input: ReviewInput, memory: Memory): Review => {
  const all = reviewSteps(input, memory);
  for (;;) {
    const step = all.next();
    if (step.done === true) return step.value;
  }
};

describe('an edit costs what changed', () => {
  let inputs: readonly ReviewInput[] = [];
  let houses: readonly ReviewInput['settings'][] = [];

  beforeAll(async () => {
    const text = textOf(START);
    const low = await prepareFixture(text, WORLD);
    const high = await prepareFixture(text, {
      ...WORLD,
      ground: { slope: { west: '380 m', east: '460 m' } },
      zones: [],
    });
    const strict = await prepareFixture(text, {
      ...WORLD,
      settings: 'settings: 1\nlimits: { height: { is: 50 m AGL, because: local custom } }\n',
    });
    inputs = [low.input, high.input];
    houses = [low.input.settings, strict.input.settings];
  });

  test('after any series of edits, going on from the last review gives what reviewing anew gives', () => {
    let again = 0;
    let all = 0;
    const counted = RULES.map((rule) => {
      if (rule.visits !== 'leg') return rule;
      const check: typeof rule.check = (leg, tools) => {
        again++;
        return rule.check(leg, tools);
      };
      return { ...rule, check };
    });
    const countedCold = RULES.map((rule) => {
      if (rule.visits !== 'leg') return rule;
      const check: typeof rule.check = (leg, tools) => {
        all++;
        return rule.check(leg, tools);
      };
      return { ...rule, check };
    });
    fc.assert(
      fc.property(steps, (script) => {
        const memory = new Memory();
        let state = START;
        let document: PlanDocument | undefined;
        for (const step of [undefined, ...script]) {
          if (step !== undefined) state = after(state, step);
          const text = textOf(state);
          document = readPlanDocument(text, '/plans/flight.mission.yaml', document);
          const world = inputs[state.world]?.world;
          const settings = houses[state.house];
          if (world === undefined || settings === undefined) throw new Error('no world was made');
          const now = instant((inputs[0]?.now ?? 0) + state.clock * 3_600_000);
          const warm = drained({ plan: document.plan, world, settings, now, rules: counted }, memory);
          const plan = readPlan(text, '/plans/flight.mission.yaml');
          const cold = review({ plan, world, settings, now, rules: countedCold });
          expect(cold.gaps.filter(({ kind }) => kind === 'fault')).toEqual([]);
          expect(told(warm), `${JSON.stringify(script)}\n${text}`).toEqual(told(cold));
        }
      }),
      { seed: 20_261_125, numRuns: 40 },
    );
    // So that the comparison says something: much was indeed not judged again.
    expect(again).toBeLessThan(0.8 * all);
  });
});
