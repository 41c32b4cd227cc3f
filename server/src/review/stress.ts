import type { Amount } from '../plan/model.ts';
import type { PlanWeather, Wind } from '../plan/weather.ts';
import { byLevel, type Finding } from '../rulebook/finding.ts';
import { SPEED_UNITS } from '../units/convert.ts';
import { type Degrees, degrees, type MetresPerSecond, metres, metresPerSecond } from '../units/frames.ts';
import type { Change, Conditions, LoadedReport, ReportedWind } from '../world/weather-report.ts';
import { isMissing } from '../world/world.ts';
import { Memory } from './memory.ts';
import { movedBy } from './moved-plan.ts';
import type { Review } from './outcome.ts';
import { type ReviewInput, reviewSteps } from './review.ts';

/** One way in which the day may turn out worse than the plan has it, in growing steps. */
export interface Stress {
  readonly what: string;
  readonly steps: readonly { readonly amount: string; readonly input: ReviewInput }[];
}

/** What one stress brings: the first step at which something new is found, and what that is. */
export interface StressResult {
  readonly what: string;
  /** Absent where no step finds anything new. */
  readonly first?: {
    readonly step: number;
    readonly of: number;
    readonly amount: string;
    readonly findings: readonly Finding[];
  };
  /** The largest step that was tried. */
  readonly most: string;
}

/** A whole turn in degrees. */
const TURN = 360;

const DELAY = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
const STRONGER = [1, 2, 3, 4, 5];
const TURNED = [10, 20, 30];
const QUARTERS = [0.25, 0.5, 0.75, 1];
const LESS = [2, 4, 6, 8, 10];

// ── wind

type ChangeWind = (speed: MetresPerSecond) => MetresPerSecond;
type TurnWind = (from: Degrees) => Degrees;

const rewritten = <T extends number>(amount: Amount<T>, value: T): Amount<T> => ({
  ...amount,
  value,
  number: amount.value === 0 ? value : (amount.number * value) / amount.value,
});

const windByHand = (wind: Wind, stronger: ChangeWind, turn: TurnWind): Wind => ({
  ...wind,
  ...(wind.from === undefined ? {} : { from: rewritten(wind.from, turn(wind.from.value)) }),
  ...(wind.speed === undefined ? {} : { speed: rewritten(wind.speed, stronger(wind.speed.value)) }),
  ...(wind.gust === undefined ? {} : { gust: rewritten(wind.gust, stronger(wind.gust.value)) }),
});

const reportedWind = (wind: ReportedWind, stronger: ChangeWind, turn: TurnWind): ReportedWind => ({
  speed: stronger(wind.speed),
  ...(wind.from === undefined ? {} : { from: turn(wind.from) }),
  ...(wind.gust === undefined ? {} : { gust: stronger(wind.gust) }),
});

const conditions = (given: Conditions, stronger: ChangeWind, turn: TurnWind): Conditions =>
  given.wind === undefined
    ? given
    : { ...given, wind: { ...given.wind, value: reportedWind(given.wind.value, stronger, turn) } };

const reportWith = (loaded: LoadedReport, stronger: ChangeWind, turn: TurnWind): LoadedReport => {
  const { report } = loaded;
  if (report === undefined) return loaded;
  const change = (each: Change): Change => ({ ...each, conditions: conditions(each.conditions, stronger, turn) });
  return {
    ...loaded,
    report: { ...report, base: conditions(report.base, stronger, turn), changes: report.changes.map(change) },
  };
};

/** The same plan in another wind: the one by hand, and those of all its reports. */
const inWind = (input: ReviewInput, stronger: ChangeWind, turn: TurnWind): ReviewInput => {
  const { plan, world } = input;
  const { wind } = plan.weather;
  const weather: PlanWeather =
    wind === undefined ? plan.weather : { ...plan.weather, wind: windByHand(wind, stronger, turn) };
  const reports = world.reports?.map((loaded) => reportWith(loaded, stronger, turn));
  return {
    ...input,
    plan: { ...plan, weather },
    world: { ...world, ...(reports === undefined ? {} : { reports }) },
  };
};

const asItIs = <T>(value: T): T => value;

const windStresses = (input: ReviewInput): readonly Stress[] => [
  {
    what: 'stronger wind',
    steps: STRONGER.map((knots) => ({
      amount: `wind + ${knots} kt`,
      input: inWind(input, (speed) => metresPerSecond(speed + knots * SPEED_UNITS.kt), asItIs),
    })),
  },
  ...([1, -1] as const).map(
    (side): Stress => ({
      what: side === 1 ? 'wind turned clockwise' : 'wind turned anticlockwise',
      steps: TURNED.map((angle) => ({
        amount: `wind ${side === 1 ? '+' : '-'} ${angle} deg`,
        input: inWind(input, asItIs, (from) => degrees((from + side * angle + TURN) % TURN)),
      })),
    }),
  ),
];

// ── time, ground, battery

const delay = (input: ReviewInput): Stress => ({
  what: 'later take-off',
  steps: DELAY.map((minutes) => ({
    amount: `${minutes} min later`,
    input: { ...input, plan: movedBy(input.plan, minutes * 60_000) },
  })),
});

const higherGround = (input: ReviewInput): readonly Stress[] => {
  const { terrain } = input.world;
  if (isMissing(terrain) || !(terrain.error > 0)) return [];
  return [
    {
      what: 'ground higher, within its stated error',
      steps: QUARTERS.map((share) => ({
        amount: `ground + ${(share * terrain.error).toFixed(1)} m`,
        input: { ...input, world: { ...input.world, terrain: terrain.raisedBy(metres(share * terrain.error)) } },
      })),
    },
  ];
};

const weakerBattery = (input: ReviewInput): readonly Stress[] => {
  const { aircraft } = input.world;
  if (isMissing(aircraft)) return [];
  const { battery, endurance } = aircraft;
  const nominal = battery?.nominal;
  if (nominal === undefined && endurance === undefined) return [];
  const less = <T extends number>(amount: Amount<T>, percent: number): Amount<T> =>
    rewritten(amount, (amount.value * (1 - percent / 100)) as T);
  return [
    {
      what: 'weaker battery',
      steps: LESS.map((percent) => ({
        amount: `battery - ${percent} %`,
        input: {
          ...input,
          world: {
            ...input.world,
            aircraft: {
              ...aircraft,
              ...(endurance === undefined ? {} : { endurance: less(endurance, percent) }),
              ...(battery === undefined || nominal === undefined
                ? {}
                : { battery: { ...battery, nominal: less(nominal, percent) } }),
            },
          },
        },
      })),
    },
  ];
};

/** All ways in which the day may turn out worse than the plan has it. */
export const stressesOf = (input: ReviewInput): readonly Stress[] => [
  delay(input),
  ...windStresses(input),
  ...higherGround(input),
  ...weakerBattery(input),
];

const isNew = (finding: Finding, before: Review): boolean =>
  !before.findings.some(
    (known) =>
      known.rule === finding.rule && known.subject === finding.subject && byLevel(known.level, finding.level) <= 0,
  );

/**
 * Judges a plan again as if things turned out worse in one way at a time, in growing steps, and tells for each way the
 * first step at which something is found that was not before, or at a worse level. Notes do not count. Each step is what
 * editing the plan, its reports, its terrain or its aircraft's file by hand would give. What breaks first, by the share
 * of the way to the largest step, comes first.
 */
export function* stressSteps(input: ReviewInput, before: Review): Generator<void, readonly StressResult[]> {
  const memory = new Memory();
  const results: StressResult[] = [];
  for (const { what, steps } of stressesOf(input)) {
    const most = steps.at(-1)?.amount ?? '';
    let result: StressResult = { what, most };
    for (const [i, { amount, input: worse }] of steps.entries()) {
      const review = yield* reviewSteps(worse, memory);
      const findings = review.findings.filter((one) => one.level !== 'note' && isNew(one, before));
      if (findings.length === 0) continue;
      result = { what, most, first: { step: i + 1, of: steps.length, amount, findings } };
      break;
    }
    results.push(result);
  }
  const share = ({ first }: StressResult): number => (first === undefined ? 2 : first.step / first.of);
  return results.sort((one, other) => share(one) - share(other));
}

/** `stressSteps` drained at once. */
export const stress = (input: ReviewInput, before: Review): readonly StressResult[] => {
  const steps = stressSteps(input, before);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
};
