import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { longitudeStep } from '../server/src/geo/box.ts';
import { legPath } from '../server/src/geo/geodesy.ts';
import type { Review } from '../server/src/review/outcome.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import type { LonLat } from '../server/src/units/frames.ts';
import { judge, judgeDraft, said } from './support/judge-draft.ts';
import { ALL, checkPremises, HEIGHT_RULES, held, RUNS, SEED, STRIKE_RULES } from './support/law-runs.ts';
import { seeded } from './support/random.ts';
import {
  BASE,
  type FlightDraft,
  flights,
  type ItemDraft,
  placeOf,
  rowsOf,
  STEP,
  WEST,
  type WorldDraft,
  worlds,
} from './support/random-flight.ts';
import { textOf, USUAL_NAMES, worldOf } from './support/write-draft.ts';

describe(`laws of places and writing (seed ${SEED})`, () => {
  afterAll(checkPremises);

  describe('where the craft is', () => {
    const point = (spot: { u: number; v: number }, metres: number): ItemDraft => ({
      kind: 'point',
      spot,
      height: { datum: 'AMSL', metres },
      follows: false,
    });
    const share = fc.double({ min: 0.06, max: 0.94, noNaN: true });
    const straight = fc.record({
      from: fc.record({ u: share, v: share }),
      to: fc.record({ u: share, v: share }),
      start: fc.integer({ min: 4, max: 320 }),
      end: fc.integer({ min: 4, max: 320 }),
      at: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
    });
    const withLeg = (flight: FlightDraft, ...points: readonly ItemDraft[]): FlightDraft => ({
      ...flight,
      items: [...points, ...flight.items],
    });

    test('does not change when a straight leg is cut in two at a point on it', () => {
      fc.assert(
        fc.property(flights(['AMSL']), worlds, straight, (flight, world, { from, to, start, end, at }) => {
          const path = legPath(placeOf(from, world), placeOf(to, world));
          fc.pre(path.length > 1);
          const middle = path.at(path.length * at);
          const side = (placeOf({ u: 0, v: 1 }, world).lat - world.south) / 1;
          const spot = { u: longitudeStep(world.west, middle.lon) / side, v: (middle.lat - world.south) / side };
          const [one, other] = [point(from, start), point(to, end)];
          // The leg is put first and between two points: areas and landings take over the height of their neighbours.
          const last = flight.items.length === 0 ? [] : [point(to, end)];
          const whole = judgeDraft(withLeg(flight, one, other, ...last), world);
          const cut = judgeDraft(withLeg(flight, one, point(spot, start + (end - start) * at), other, ...last), world);
          const about = (found: Review): unknown => {
            const of = (rules: readonly string[]) => found.findings.some(({ rule }) => rules.includes(rule));
            const subjects = (rule: string, what: (subject: string) => string) =>
              [
                ...new Set(found.findings.filter((one) => one.rule === rule).map(({ subject }) => what(subject))),
              ].sort();
            return {
              tooHigh: of(HEIGHT_RULES),
              strikes: of(STRIKE_RULES),
              zones: subjects('zone-entered-unauthorised', (subject) => subject),
              obstacles: subjects('obstacle-struck', (subject) => subject.replace(/^.* at /, '')),
              farFromSight: of(['seen-beyond-guidance-range']),
              outOfSight: of(['seen-beyond-visibility']),
              gaps: [...new Set(found.gaps.map(({ rule }) => rule))].sort(),
            };
          };
          held(
            'a leg that is cut is too high or strikes',
            whole.findings.some(({ rule }) => [...HEIGHT_RULES, ...STRIKE_RULES].includes(rule)),
          );
          expect(about(cut)).toEqual(about(whole));
        }),
        RUNS,
      );
    });

    /** Bilinear ground, written here on its own. */
    const groundByHand = (rows: readonly (readonly number[])[], { south, west }: WorldDraft, at: LonLat): number => {
      const x = longitudeStep(west, at.lon) / STEP;
      const y = rows.length - 1 - (at.lat - south) / STEP;
      const [column, row] = [Math.floor(x), Math.floor(y)];
      const node = (i: number, j: number): number => rows[row + j]?.[column + i] ?? Number.NaN;
      const [p, q] = [x - column, y - row];
      return (node(0, 0) * (1 - p) + node(1, 0) * p) * (1 - q) + (node(0, 1) * (1 - p) + node(1, 1) * p) * q;
    };

    test('is told within a centimetre of sampling every centimetre, and no breach that sampling finds is missed', () => {
      fc.assert(
        fc.property(flights(['AMSL']), worlds, straight, (flight, world, { from, to, start, end }) => {
          const path = legPath(placeOf(from, world), placeOf(to, world));
          fc.pre(path.length > 1);
          const rows = rowsOf(world.ground);
          const heightAt = (along: number): number => {
            const at = path.at(along);
            return BASE + start + ((end - start) * along) / path.length - groundByHand(rows, world, at);
          };
          /** Every metre first, then every centimetre around the best one. */
          const extreme = (better: (one: number, other: number) => boolean): number => {
            let best = { along: 0, height: heightAt(0) };
            const look = (along: number): void => {
              const height = heightAt(along);
              if (better(height, best.height)) best = { along, height };
            };
            for (let along = 0; along < path.length; along++) look(along);
            look(path.length);
            const { along: near } = best;
            for (let k = -200; k <= 200; k++) look(Math.min(path.length, Math.max(0, near + k / 100)));
            return best.height;
          };
          const found = judgeDraft(withLeg(flight, point(from, start), point(to, end)), world);
          const names = [USUAL_NAMES.item(0), USUAL_NAMES.item(1)];
          const leg = `leg ${names[0]} to ${names[1]}`;
          const ends = names.map((name) => `point ${name}`);
          const limit = 121.92;
          const sides = [
            {
              rules: ['leg-above-height-limit', 'point-above-height-limit'],
              most: extreme((a, b) => a > b),
              sign: 1,
              limit,
            },
            { rules: ['leg-meets-ground', 'point-below-ground'], most: extreme((a, b) => a < b), sign: -1, limit: 0 },
          ] as const;
          for (const side of sides) {
            const beyond = side.sign * (side.most - side.limit);
            const own = found.findings.filter(
              ({ rule, subject }) =>
                (rule === side.rules[0] && subject === leg) || (rule === side.rules[1] && ends.includes(subject)),
            );
            if (beyond > 0.01) expect(own.length, `${side.rules[0]} says nothing of ${side.most} m`).toBeGreaterThan(0);
            if (beyond < -0.01) expect(own.map(({ message }) => message)).toEqual([]);
            // A stretch that begins at an end which is beyond by itself is told of that end alone.
            const onLeg = own.length > 0 && own.every(({ rule }) => rule === side.rules[0]);
            const worst = Math.max(...own.map(({ measured }) => side.sign * (measured?.value ?? Number.NaN)));
            if (onLeg) expect(Math.abs(worst - side.sign * side.most)).toBeLessThan(0.01);
            held(`${side.rules[0]} has work`, own.length > 0);
          }
        }),
        { ...RUNS, numRuns: 40 },
      );
    });
  });

  describe('the same flight is judged the same', () => {
    test('on either side of the 180° meridian and across it', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, fc.constantFrom(0.5, 0.1, 0.77), (flight, world, share) => {
          const across = { ...world, west: 180 - share * 24 * STEP };
          expect(said(judgeDraft(flight, across))).toEqual(said(judgeDraft(flight, world)));
        }),
        RUNS,
      );
    });

    test('over a raster whose longitudes count a turn more', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, fc.constantFrom(360, -360), (flight, world, turn) => {
          expect(WEST + turn).not.toBe(world.west);
          expect(said(judgeDraft(flight, { ...world, west: world.west + turn }))).toEqual(
            said(judgeDraft(flight, world)),
          );
        }),
        RUNS,
      );
    });

    test('whatever the order of its keys', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, fc.integer(), (flight, world, seed) => {
          const random = seeded(seed);
          const order = (keys: readonly string[]): readonly string[] =>
            keys
              .map((key) => ({ key, rank: random() }))
              .sort((one, other) => one.rank - other.rank)
              .map(({ key }) => key);
          const text = textOf(flight, world, { style: 'block', order });
          expect(said(judge(text, worldOf(world)))).toEqual(said(judgeDraft(flight, world)));
        }),
        RUNS,
      );
    });

    test('in block style and in flow style', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, (flight, world) => {
          const text = textOf(flight, world, { style: 'flow' });
          expect(said(judge(text, worldOf(world)))).toEqual(said(judgeDraft(flight, world)));
        }),
        RUNS,
      );
    });

    test('whatever its points are called', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, (flight, world) => {
          const names = { home: 'boathouse', item: (index: number) => `gate-${index}` };
          const renamed = judge(textOf(flight, world, { style: 'block' }, names), worldOf(world));
          const usual = said(judgeDraft(flight, world)).map((line) =>
            line.replace(/\bhome\b/g, names.home).replace(/\bstop-(\d+)\b/g, 'gate-$1'),
          );
          expect(said(renamed)).toEqual([...usual].sort());
        }),
        RUNS,
      );
    });

    test('each time, and by the rules in any order', () => {
      fc.assert(
        fc.property(flights(ALL), worlds, (flight, world) => {
          const once = said(judgeDraft(flight, world));
          expect(said(judgeDraft(flight, world))).toEqual(once);
          expect(said(judgeDraft(flight, world, { rules: [...RULES].reverse() }))).toEqual(once);
        }),
        { ...RUNS, numRuns: 40 },
      );
    });
  });
});
