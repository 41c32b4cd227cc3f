import { expect, test } from 'vitest';
import { exitCode } from '../server/src/cli/checked.ts';
import { Lines } from '../server/src/text/lines.ts';
import { instant } from '../server/src/units/frames.ts';
import { type FixtureWorld, nowOf, parseWorld } from './support/fixture-world.ts';
import { judgeText } from './support/judge-text.ts';
import { standardHead, standardWorld } from './support/rule-examples.ts';

/**
 * What cannot exist yet is no reason to stop a plan; on the morning it is. One plan without a word about people,
 * obstacles, weather, the notices of the day and what is looked at before the flight, looked at from far ahead until it is over. Its window: 2026-06-14 06:40 to 07:10 -07:00.
 */
const plan = standardHead()
  .split('\n')
  .filter((line) => !/^(people|obstacles|weather|restrictions|preflight):/.test(line))
  .join('\n')
  // The owner's leave was there at the first look; leave that is dated ahead would be told.
  .replace('given: 2026-05-02', 'given: 2026-04-02');

interface Look {
  readonly list: readonly string[];
  readonly exit: number;
  readonly allDue: number;
}

const lookAt = async (now: string): Promise<Look> => {
  const world: FixtureWorld = parseWorld(`now: ${now}\n`, standardWorld());
  const review = await judgeText(plan, world);
  const run = (allDue: boolean) =>
    exitCode({
      version: 'test',
      now: instant(nowOf(world)),
      gate: 'stop',
      allDue,
      checked: [{ path: 'flight.mission.yaml', review, lines: new Map([[review.plan.document, new Lines(plan)]]) }],
      unopened: [],
    });
  return {
    list: [
      ...review.findings.map(({ level, rule }) => `${level} ${rule}`),
      ...review.gaps.map(({ kind, rule }) => `${kind} ${rule}`),
    ],
    exit: run(false),
    allDue: run(true),
  };
};

/** What a person sees at the site; what a forecast tells; what is only known on the day. */
const LOOKS = ['obstacle-struck', 'people-in-fall-reach', 'people-overflown', 'people-unstated'];
const FORECASTS = [
  'cloud-nearer-than-minimum',
  'energy-short',
  'leg-faster-than-aircraft',
  'reserve-below-policy',
  'return-energy-short',
  'seen-beyond-guidance-range',
  'seen-beyond-visibility',
  'visibility-below-minimum',
  'wind-above-aircraft-limit',
  'window-too-short',
];
const OF_THE_DAY = [
  'aircraft-condition-unstated',
  'aircraft-unmarked',
  'crew-fitness-unstated',
  'crewed-traffic-unstated',
  'dangerous-goods-unstated',
  'restrictions-not-looked-up',
  'transponder-unstated',
];

const as = (kind: string, ...groups: readonly (readonly string[])[]): readonly string[] =>
  groups.flat().map((rule) => `${kind} ${rule}`);

const inOrder = ({ list, ...rest }: Look): Look => ({ list: [...list].sort(), ...rest });

test('sixty days before, none of it can be there: nothing reaches the gate, but the morning’s check counts it', async () => {
  // Airspace that is fetched now will be more than a cycle old by then.
  const list = [...as('not-yet', LOOKS, FORECASTS, OF_THE_DAY, ['airspace-data-old'])].sort();
  expect(inOrder(await lookAt('2026-04-15 06:40 -07:00'))).toEqual({ list, exit: 0, allDue: 1 });
});

test('ten days before, a look at the site is due, a forecast is not', async () => {
  const list = [...as('missing', LOOKS), ...as('not-yet', FORECASTS, OF_THE_DAY)].sort();
  expect(inOrder(await lookAt('2026-06-04 06:40 -07:00'))).toEqual({ list, exit: 1, allDue: 1 });
});

test('twenty-eight hours before, forecasts are due, the notices of the day are not', async () => {
  const list = [...as('missing', LOOKS, FORECASTS), ...as('not-yet', OF_THE_DAY)].sort();
  expect(inOrder(await lookAt('2026-06-13 02:40 -07:00'))).toEqual({ list, exit: 1, allDue: 1 });
});

test('a day and an hour before, all of it is due', async () => {
  const list = [...as('missing', LOOKS, FORECASTS, OF_THE_DAY)].sort();
  for (const now of ['2026-06-13 06:40 -07:00', '2026-06-14 05:40 -07:00']) {
    expect(inOrder(await lookAt(now)), now).toEqual({ list, exit: 1, allDue: 1 });
  }
});

test('an hour after, the plan is over', async () => {
  const list = [...as('missing', LOOKS, FORECASTS, OF_THE_DAY), 'stop window-over'].sort();
  expect(inOrder(await lookAt('2026-06-14 08:10 -07:00'))).toEqual({ list, exit: 1, allDue: 1 });
});

test('a plan that says it was flown is judged as of its day and stays outside the gate', async () => {
  const world = parseWorld('now: 2026-08-01 08:10 -07:00\n', standardWorld());
  const flown = `${plan}flown: 2026-06-14\n`;
  const review = await judgeText(flown, world);
  expect(review.findings.map(({ rule }) => rule)).toEqual([]);
  const checked = [{ path: 'flight.mission.yaml', review, lines: new Map([[review.plan.document, new Lines(flown)]]) }];
  const now = nowOf(world);
  expect(exitCode({ version: 'test', now, gate: 'note', allDue: true, checked, unopened: [] })).toBe(0);
});
