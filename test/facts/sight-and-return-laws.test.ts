import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { returnGroundStrikes } from '../../server/src/facts/return-strikes.ts';
import { legSeen } from '../../server/src/facts/who-sees.ts';
import { totalLength } from '../../server/src/geo/interval.ts';
import { surfaceGrid } from '../../server/src/world/small-grid.ts';
import { LATTICE, madePlan, worldWith } from './made-plan.ts';

const hills = (seed: number, stretch: number) =>
  surfaceGrid(
    LATTICE,
    (lon, lat) => 400 + stretch * (20 * Math.sin(seed + lon * 3500) * Math.cos(lat * 2500 - seed) + 20),
  );

const PILOT = 'pilot: { stands: { lat: 47.5, lon: -120.5 } }';
const plan = (climb: number, altitude: number, crew = `crew: { ${PILOT} }\n`): string =>
  `${crew}lost-link: { after: 5 s, climb-to: ${climb} m AMSL, then: fly back and land }
route:
  - take-off: home
    at: 47.5, -120.5
    climb-to: ${altitude} m AMSL
  - point: a
    at: 47.503, -120.496
    altitude: ${altitude} m AMSL
  - point: b
    at: 47.499, -120.493
    altitude: ${altitude} m AMSL
  - land: home
`;

const cases = fc.record({
  seed: fc.integer({ min: 0, max: 1000 }),
  altitude: fc.integer({ min: 405, max: 470 }),
  climb: fc.integer({ min: 400, max: 470 }),
  by: fc.integer({ min: 1, max: 40 }),
});

const strikesOf = (text: string, seed: number, stretch = 1) => {
  const { tools, plan: read } = madePlan(text, worldWith([hills(seed, stretch)], { obstacles: [] }));
  const [flight] = read.flights;
  if (flight === undefined) throw new Error('no flight');
  return tools.ask(returnGroundStrikes, flight)?.strikes ?? [];
};

/** The leg from a to b is some 498 m long. */
const FULL = 495;

describe('laws of sight and of the way home', () => {
  test('a lower height of the way home never clears a strike, nor makes it shallower', () => {
    let struck = 0;
    fc.assert(
      fc.property(cases, ({ seed, altitude, climb, by }) => {
        const high = strikesOf(plan(climb, altitude), seed);
        const low = strikesOf(plan(climb - by, altitude), seed);
        for (const strike of high) {
          struck += 1;
          const same = low.find(({ returns }) => returns.subject === strike.returns.subject);
          expect(same?.over ?? Number.NEGATIVE_INFINITY).toBeGreaterThan(strike.over - 0.01);
        }
      }),
      { seed: 5, numRuns: 30 },
    );
    expect(struck).toBeGreaterThan(5);
  });

  test('an observer more takes nobody’s view away', () => {
    fc.assert(
      fc.property(cases, ({ seed, altitude, climb }) => {
        const world = worldWith([hills(seed, 1)], { obstacles: [] });
        const seenBy = (crew: string) => {
          const { tools, legTo } = madePlan(plan(climb, altitude, crew), world);
          return tools.ask(legSeen, legTo('b')).seen;
        };
        const alone = seenBy(`crew: { ${PILOT} }\n`);
        const two = seenBy(`crew: { ${PILOT}, observers: [{ name: east, stands: { lat: 47.502, lon: -120.495 } }] }\n`);
        expect(two).toHaveLength(2);
        expect(two[0]?.stretches).toEqual(alone[0]?.stretches);
      }),
      { seed: 6, numRuns: 15 },
    );
  });

  test('higher waves of the ground reveal nothing that lower ones hid from the same height above the sea', () => {
    let hidden = 0;
    // The pilot stands in a trough, where the ground does not rise with the waves.
    fc.assert(
      fc.property(fc.integer({ min: 410, max: 440 }), fc.integer({ min: 1, max: 10 }), (altitude, by) => {
        const text = plan(470, altitude);
        const troughs = (stretch: number) => {
          const grid = surfaceGrid(LATTICE, (lon) => 400 + stretch * 30 * Math.abs(Math.sin((lon + 120.5) * 900)));
          const { tools, legTo } = madePlan(text, worldWith([grid], { obstacles: [] }));
          return totalLength(tools.ask(legSeen, legTo('b')).seen[0]?.stretches ?? []);
        };
        const before = troughs(1);
        const after = troughs(1 + by / 10);
        if (before < FULL) hidden += 1;
        // An end of a stretch is found to a metre.
        expect(after).toBeLessThan(before + 2.5);
      }),
      { seed: 7, numRuns: 15 },
    );
    expect(hidden).toBeGreaterThan(0);
  });
});
