import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { patternPoints } from '../server/src/facts/pattern.ts';
import { readPlan } from '../server/src/plan/read.ts';
import { NO_SETTINGS } from '../server/src/plan/settings.ts';
import { memo } from '../server/src/review/memo.ts';
import type { Review } from '../server/src/review/outcome.ts';
import { startOf } from '../server/src/text/span.ts';
import { judge, NOW } from './support/judge-draft.ts';
import { checkPremises, HEIGHT_RULES, held, RUNS, SEED, STRIKE_RULES } from './support/law-runs.ts';
import {
  beside,
  type FlightDraft,
  flights,
  placeOf,
  type Spot,
  type WorldDraft,
  worlds,
} from './support/random-flight.ts';
import { textOf, worldOf } from './support/write-draft.ts';

const share = fc.double({ min: 0.25, max: 0.75, noNaN: true });

const patterns = fc.record({
  kind: fc.constantFrom('survey' as const, 'corridor' as const, 'circle' as const),
  spot: fc.record({ u: share, v: share }),
  reach: fc.integer({ min: 30, max: 180 }),
  course: fc.integer({ min: 0, max: 359 }),
  spacing: fc.integer({ min: 40, max: 120 }),
  altitude: fc.tuple(fc.constantFrom('AGL', 'AMSL', 'above take-off'), fc.integer({ min: 4, max: 190 })),
  follows: fc.boolean(),
  turning: fc.constantFrom('left' as const, 'right' as const),
});
type PatternDraft = typeof patterns extends fc.Arbitrary<infer T> ? T : never;

const place = (spot: Spot, world: WorldDraft): string => {
  const at = placeOf(spot, world);
  return `{ lat: ${at.lat.toFixed(12)}, lon: ${at.lon.toFixed(12)} }`;
};

const altitudeOf = ({ altitude: [datum, metres] }: PatternDraft): string =>
  `${datum === 'AMSL' ? 400 + metres : metres} m ${datum}`;

const termsOf = ({ follows }: PatternDraft): string =>
  `speed: 6 m/s over ground${follows ? ', follows: 40 m AGL within 5 m' : ''}`;

const patternText = (draft: PatternDraft, world: WorldDraft): string => {
  const { kind, spot, reach, course, spacing, turning } = draft;
  const rest = `altitude: ${altitudeOf(draft)}, ${termsOf(draft)}, leg: { speed: 7 m/s over ground }`;
  const middle = place(spot, world);
  if (kind === 'circle') {
    return `{ circle: field, around: ${middle}, radius: ${reach} m, turns: 1, sides: 7, turning: ${turning}, begins: ${course} deg, ${rest} }`;
  }
  const corners = [
    [-1, -1],
    [-0.6, 1],
    [0, 0.1],
    [0.8, 1],
    [1, -0.4],
  ].map(([east = 0, north = 0]) => place(beside(spot, east * reach, north * reach), world));
  if (kind === 'corridor') {
    return `{ corridor: field, along: [${[corners[0], corners[2], corners[4]].join(', ')}], width: ${reach / 4} m, lines: 3, first-turn: ${turning}, ${rest} }`;
  }
  return `{ survey: field, inside: { polygon: [${corners.join(', ')}] }, course: ${course} deg, spacing: ${spacing} m, first-turn: ${turning}, ${rest} }`;
};

/** The same legs as points, each written out. */
const pointsText = (text: string, draft: PatternDraft, world: WorldDraft): string => {
  const plan = readPlan(text, 'made.mission.yaml');
  const tools = memo({ plan, world: worldOf(world), settings: NO_SETTINGS, ruleSet: undefined, now: NOW });
  const item = plan.items.find(({ id }) => id.value === 'field');
  if (item === undefined || plan.slips.length > 0) throw new Error(`the law's plan has a slip:\n${text}`);
  return tools
    .ask(patternPoints, item)
    .map(({ id, at }, i) => {
      const where = `{ lat: ${at?.value.lat.toFixed(12)}, lon: ${at?.value.lon.toFixed(12)} }`;
      const terms = i === 0 ? 'speed: 7 m/s over ground' : termsOf(draft);
      return `  - { point: ${id.value}, at: ${where}, altitude: ${altitudeOf(draft)}, leg: { ${terms} } }\n`;
    })
    .join('');
};

const withItems = (flight: FlightDraft, world: WorldDraft, items: string): string => {
  const text = textOf(flight, world);
  const landing = text.lastIndexOf('- land:');
  const start = text.lastIndexOf('\n', landing) + 1;
  const indent = text.slice(start, landing);
  return text.slice(0, start) + items.replace(/^ {2}/gm, indent) + text.slice(start);
};

/** What is found and lacking, rule by rule; how many times is the business of the pattern. */
const rulesIn = (found: Review): unknown => ({
  findings: [...new Set(found.findings.map(({ rule, level }) => `${level} ${rule}`))].sort(),
  gaps: [...new Set(found.gaps.map(({ rule }) => rule))].sort(),
  margins: found.margins.map(({ rule, room }) => `${rule} ${Math.round(room * 20) / 20 || 0}`).sort(),
});

describe(`laws of patterns (seed ${SEED})`, () => {
  afterAll(checkPremises);

  test('a pattern is judged as the points that it stands for, and each rule speaks of each of its fields once', () => {
    fc.assert(
      fc.property(flights(['AGL', 'AMSL']), worlds, patterns, (flight, world, draft) => {
        const pattern = withItems(flight, world, `  - ${patternText(draft, world)}\n`);
        const whole = judge(pattern, worldOf(world));
        const points = judge(withItems(flight, world, pointsText(pattern, draft, world)), worldOf(world));
        expect(rulesIn(whole), pattern).toEqual(rulesIn(points));
        const told = whole.findings.filter(({ subject }) => subject === `${draft.kind} field`);
        const about = told.map(({ rule }) => rule);
        // The way to a pattern has a speed of its own beside that of its lines: each may be to blame.
        const fields = told.map(({ rule, at }) => `${rule} at ${startOf(at)}`);
        expect(fields).toEqual([...new Set(fields)]);
        held(
          'a pattern is too high or strikes',
          about.some((rule) => [...HEIGHT_RULES, ...STRIKE_RULES].includes(rule)),
        );
      }),
      { ...RUNS, numRuns: 60 },
    );
  });
});
