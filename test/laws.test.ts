import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { longitudeStep } from '../server/src/geo/box.ts';
import { legPath } from '../server/src/geo/geodesy.ts';
import type { Review } from '../server/src/review/outcome.ts';
import { RULES } from '../server/src/rules/index.generated.ts';
import type { LonLat } from '../server/src/units/frames.ts';
import type { World } from '../server/src/world/world.ts';
import { houseLimits, isStillTold, judge, judgeDraft, said } from './support/judge-draft.ts';
import { seeded } from './support/random.ts';
import {
  BASE,
  type DatumDraft,
  type FlightDraft,
  flights,
  type ItemDraft,
  northOf,
  placeOf,
  rowsOf,
  STEP,
  textOf,
  USUAL_NAMES,
  WEST,
  type WorldDraft,
  worldOf,
  worlds,
  zone,
} from './support/random-flight.ts';

/** Another seed can be tried from outside; it stands in the name of the suite, so that a failure can be run again. */
const SEED = Number(process.env['WAYWARDEN_SEED'] ?? 20_261_125);
const RUNS = { seed: SEED, numRuns: 80 };

const ALL: readonly DatumDraft[] = ['AGL', 'AMSL', 'above take-off'];

const HEIGHT_RULES: readonly string[] = [
  'leg-above-height-limit',
  'point-above-height-limit',
  'area-above-height-limit',
];
const STRIKE_RULES: readonly string[] = ['leg-meets-ground', 'point-below-ground', 'area-meets-ground'];

const lost = (before: Review, after: Review, rules?: readonly string[]): readonly string[] =>
  before.findings
    .filter((finding) => finding.level !== 'note' && (rules === undefined || rules.includes(finding.rule)))
    .filter((finding) => !isStillTold(finding, after))
    .map((finding) => `${finding.rule}: ${finding.message}`);

const gapsOf = (found: Review): readonly string[] => found.gaps.map((gap) => `${gap.rule}: ${gap.reason}`).sort();

/** How often the premise of a law held: a law whose premise never holds proves nothing. */
const premises = new Map<string, number>();
const held = (law: string, holds: boolean): void => {
  premises.set(law, (premises.get(law) ?? 0) + (holds ? 1 : 0));
};

describe(`laws of the review (seed ${SEED})`, () => {
  afterAll(() => {
    for (const [law, times] of premises)
      expect(times, `too few cases in which ${law}`).toBeGreaterThan(RUNS.numRuns / 10);
  });

  test('tightening a limit of the house never removes a finding', () => {
    const limits = fc.record({
      height: fc.integer({ min: 20, max: 121 }),
      lower: fc.integer({ min: 1, max: 60 }),
      sight: fc.integer({ min: 100, max: 1500 }),
      nearer: fc.integer({ min: 1, max: 400 }),
      days: fc.integer({ min: 1, max: 30 }),
      fewer: fc.integer({ min: 0, max: 10 }),
    });
    fc.assert(
      fc.property(flights(ALL), worlds, limits, (flight, world, { height, lower, sight, nearer, days, fewer }) => {
        const house = (h: number, s: number, d: number) =>
          houseLimits(
            `height: { is: ${Math.max(5, h)} m AGL }, sight-range: { is: ${Math.max(10, s)} m }, statement-age: { is: ${Math.max(0, d) * 24} h }`,
          );
        const wide = judgeDraft(flight, world, { settings: house(height, sight, days) });
        const tight = judgeDraft(flight, world, { settings: house(height - lower, sight - nearer, days - fewer) });
        held(
          'a wide limit is broken',
          wide.findings.some(({ rule }) => HEIGHT_RULES.includes(rule)),
        );
        // A note that the limit is near may grow into the breach itself; every other finding stays.
        expect(lost(wide, tight)).toEqual([]);
        expect(gapsOf(tight)).toEqual(gapsOf(wide));
      }),
      RUNS,
    );
  });

  test('adding a closed zone never removes a finding or a gap, nor changes one', () => {
    fc.assert(
      fc.property(flights(ALL), worlds, zone, (flight, world, added) => {
        const before = judgeDraft(flight, world);
        const after = judgeDraft(flight, { ...world, zones: [...world.zones, added] });
        const [one, other] = [said(before), new Set(said(after))];
        const row = 'zone-entered-unauthorised = ';
        expect(one.filter((line) => !other.has(line) && !line.startsWith(row))).toEqual([]);
        held('the added zone is entered', after.findings.length > before.findings.length);
      }),
      RUNS,
    );
  });

  // With heights above the sea, or above a take-off whose elevation the plan states, the aircraft stays where it is when
  // the ground moves. A height above ground moves along, so the two laws do not hold for it.
  const fixed = fc
    .tuple(flights(['AMSL', 'above take-off']), fc.integer({ min: 395, max: 470 }))
    .map(([flight, elevation]): FlightDraft => ({ ...flight, elevation }));
  const moved = (world: WorldDraft, seed: number, by: number): WorldDraft => ({
    ...world,
    ground: { ...world.ground, moved: { seed, by } },
  });

  test('raising the ground never removes a strike', () => {
    fc.assert(
      fc.property(fixed, worlds, fc.integer(), (flight, world, seed) => {
        const before = judgeDraft(flight, world);
        const after = judgeDraft(flight, moved(world, seed, 40));
        held(
          'the ground is struck',
          before.findings.some(({ rule }) => STRIKE_RULES.includes(rule)),
        );
        expect(lost(before, after, [...STRIKE_RULES, 'obstacle-struck'])).toEqual([]);
      }),
      RUNS,
    );
  });

  test('lowering the ground never removes a finding about height', () => {
    fc.assert(
      fc.property(fixed, worlds, fc.integer(), (flight, world, seed) => {
        const before = judgeDraft(flight, world);
        const after = judgeDraft(flight, moved(world, seed, -40));
        held(
          'the flight is too high',
          before.findings.some(({ rule }) => HEIGHT_RULES.includes(rule)),
        );
        expect(lost(before, after, HEIGHT_RULES)).toEqual([]);
      }),
      RUNS,
    );
  });

  describe('taking a whole source away makes gaps, never silence:', () => {
    type Source = 'terrain' | 'airspace' | 'obstacles' | 'aircraft';

    /** Rules that may be met although they looked into what is missing, each with the reason. */
    const ANSWERED_OTHERWISE: Readonly<Record<string, readonly Source[]>> = {
      // A file that is not there has no faulty parts; that it is not there is found on the reference to it.
      'aircraft-file-faulty': ['aircraft'],
      // The size of the aircraft decides only about obstacles just beside the way: see the law below.
      'obstacle-struck': ['aircraft'],
      // A window in full daylight needs no light on the aircraft, and a light needs no daylight.
      'anti-collision-light-missing': ['aircraft'],
    };

    /** A world that notes whether anyone looked into one of its sources. Asking whether it is there is no look. */
    const watched = (world: World, source: Source): { readonly world: World; looks(): number } => {
      let looks = 0;
      const part = world[source];
      const noting = new Proxy(part, {
        get: (target, key, receiver) => {
          // An error margin says nothing about a place.
          if (key !== 'error') looks++;
          return Reflect.get(target, key, receiver);
        },
      });
      return { world: { ...world, [source]: noting }, looks: () => looks };
    };

    test.each<Source>(['terrain', 'airspace', 'obstacles', 'aircraft'])('%s', (source) => {
      fc.assert(
        fc.property(flights(ALL), worlds, (flight, draft) => {
          // At the take-off the plan's own elevation, where it states one, answers instead of the terrain.
          const text = textOf({ ...flight, elevation: undefined }, draft);
          const world = worldOf(draft);
          const without: World = { ...world, [source]: { missing: 'the law took it away' } };
          const after = judge(text, without);
          const silent = RULES.filter((rule) => {
            const one = watched(world, source);
            judge(text, one.world, { rules: [rule] });
            const state = after.matrix.find((row) => row.rule === rule.id)?.state;
            return (
              one.looks() > 0 &&
              !ANSWERED_OTHERWISE[rule.id]?.includes(source) &&
              (state === 'met' || state === undefined)
            );
          });
          expect(silent.map((rule) => rule.id)).toEqual([]);
          expect(after.complete).toBe(false);
          held(
            `a rule lacks ${source}`,
            after.gaps.some((gap) => gap.reason.includes('the law took it away')),
          );
        }),
        { ...RUNS, numRuns: 25 },
      );
    });

    test('a height that is written above ground is told without terrain, too', () => {
      fc.assert(
        fc.property(flights(['AGL']), worlds, (flight, draft) => {
          const text = textOf(flight, draft);
          const world: World = { ...worldOf(draft), terrain: { missing: 'the law took it away' } };
          const after = judge(text, world);
          const tooHigh = flight.items.flatMap((item, index) =>
            item.kind === 'point' && item.height.metres > 122 ? [`point ${USUAL_NAMES.item(index)}`] : [],
          );
          const told = after.findings.filter(({ rule }) => rule === 'point-above-height-limit');
          expect(told.map(({ subject }) => subject)).toEqual(expect.arrayContaining(tooHigh));
          held('a point is too high as written', tooHigh.length > 0);
        }),
        RUNS,
      );
    });

    test('an obstacle just beside the way is a gap while the size of the aircraft is not known', () => {
      fc.assert(
        fc.property(flights(['AMSL']), worlds, fc.integer({ min: 1, max: 4 }), (flight, draft, beside) => {
          const top = { datum: 'AMSL', metres: 300 } as const;
          // The way ends above the take-off, so a mast so many metres beside it is so near to the way.
          const obstacles = [{ spot: northOf(flight.takeOff, beside), radius: 0, top }];
          const text = textOf({ ...flight, climbTo: undefined }, { ...draft, obstacles });
          const world: World = { ...worldOf({ ...draft, obstacles }), aircraft: { missing: 'the law took it away' } };
          const after = judge(text, world);
          expect(after.matrix.find((row) => row.rule === 'obstacle-struck')?.state).not.toBe('met');
        }),
        { ...RUNS, numRuns: 30 },
      );
    });

    test('a zone that needs no terrain is told without terrain, also beside one that does', () => {
      fc.assert(
        fc.property(flights(['AMSL']), worlds, zone, (flight, draft, walled) => {
          const zones = [{ ...walled, floor: { datum: 'AGL', metres: 30 } } as const, ...draft.zones];
          const both = { ...draft, zones: [...zones, { ...walled, floor: 'open', ceiling: 'open' } as const] };
          const text = textOf({ ...flight, elevation: 420 }, both);
          const name = `zone zone-${both.zones.length - 1}`;
          const zonesOf = (world: World): readonly string[] =>
            judge(text, world)
              .findings.filter(({ rule }) => rule === 'zone-entered-unauthorised')
              .map(({ subject }) => subject);
          const isEntered = zonesOf(worldOf(both)).includes(name);
          held('the open zone is entered', isEntered);
          const without = { ...worldOf(both), terrain: { missing: 'the law took it away' } };
          expect(zonesOf(without).includes(name)).toBe(isEntered);
        }),
        RUNS,
      );
    });
  });

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
