import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { RULES } from '../server/src/rules/index.generated.ts';
import type { World } from '../server/src/world/world.ts';
import { houseLimits, judge, judgeDraft, said } from './support/judge-draft.ts';
import { ALL, checkPremises, gapsOf, HEIGHT_RULES, held, lost, RUNS, SEED, STRIKE_RULES } from './support/law-runs.ts';
import { type FlightDraft, flights, northOf, type WorldDraft, worlds, zone } from './support/random-flight.ts';
import { textOf, USUAL_NAMES, worldOf } from './support/write-draft.ts';

describe(`laws of what is found (seed ${SEED})`, () => {
  afterAll(checkPremises);

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
        const rows = ['zone-entered-unauthorised', 'contingency-reaches-zone', 'return-enters-zone'].map(
          (rule) => `${rule} = `,
        );
        const isRow = (line: string): boolean => rows.some((row) => line.startsWith(row));
        expect(one.filter((line) => !other.has(line) && !isRow(line))).toEqual([]);
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
      // The size of the aircraft decides only about obstacles just beside the way: see the law below.
      'obstacle-struck': ['aircraft'],
      // How far a link must reach is asked only of flights that get farther than every link; that they cannot be measured is
      // told by the rules about sight.
      'beyond-link-range': ['terrain', 'aircraft'],
      // Without the ground a volume that surely meets no zone is judged by its outline alone.
      'contingency-reaches-zone': ['terrain'],
      // What is written in a file that is not there cannot hold a secret.
      'secret-digits-written': ['aircraft'],
      // What the ground hides is told without obstacles; that these are not known, by the rules about them.
      'hidden-from-pilot': ['obstacles'],
      // A structure only ever lifts the limit of height: without it the limit is the lower one.
      'leg-above-height-limit': ['obstacles'],
      'point-above-height-limit': ['obstacles'],
      'area-above-height-limit': ['obstacles'],
      'height-limit-within-terrain-error': ['obstacles'],
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
});
