import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Review } from '../../server/src/review/outcome.ts';
import { review } from '../../server/src/review/review.ts';
import { stress, stressesOf } from '../../server/src/review/stress.ts';
import { type FixtureWorld, prepareFixture } from '../support/fixture-world.ts';
import { readProject } from '../support/project.ts';

const WORLD = parse(readProject('test/support/standard-world.yaml')) as FixtureWorld;

/** Winds near the craft's limit, a low pass over the ground, leave that soon ends, and a METAR beside the values by hand. */
const PLAN = readProject('test/support/standard-head.yaml')
  .replace(/wind: .*? \}/, 'wind: { from: 240 deg, speed: 7 m/s, gust: 9 m/s }')
  .replace('    altitude: 60 m AGL', '    altitude: 406 m AMSL')
  .replace(
    'lost-link:',
    'authorisations: [{ number: A-1, zone: tower, up-to: 120 m AGL, from: 2026-06-14, until: 2026-06-14 07:14 -07:00, holder: operator }]\nlost-link:',
  );
const AIRSPACE = {
  ...WORLD,
  zones: [
    {
      id: 'tower',
      name: 'Tower',
      kind: 'controlled',
      class: 'D',
      surfaceAreaOfAirport: true,
      floor: 'SFC',
      ceiling: '2000 ft AMSL',
      circle: { at: [-120.5, 47.5] as const, radius: '900 m' },
    },
  ],
};

const told = (found: Review): readonly string[] =>
  found.findings.map(({ level, rule, subject, message }) => `${level} ${rule}, ${subject}: ${message}`);

const at = (minutes: number): string =>
  `${String(6 + Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

const KNOT = 1852 / 3600;

/** The same plan and world, written with the change of one step. */
const edited = (what: string, amount: string): readonly [string, FixtureWorld] => {
  const n = Number(/\d+(?:\.\d+)?/.exec(amount)?.[0]);
  if (what === 'later take-off')
    return [
      PLAN.replace('06:40 -07:00', `${at(40 + n)} -07:00`).replace(
        'until: 2026-06-14 07:10',
        `until: 2026-06-14 ${at(70 + n)}`,
      ),
      AIRSPACE,
    ];
  if (what === 'stronger wind')
    return [
      PLAN.replace('speed: 7 m/s', `speed: ${7 + n * KNOT} m/s`).replace('gust: 9 m/s', `gust: ${9 + n * KNOT} m/s`),
      AIRSPACE,
    ];
  if (what.startsWith('wind turned'))
    return [PLAN.replace('240 deg', `${amount.includes('+') ? 240 + n : 240 - n} deg`), AIRSPACE];
  if (what === 'weaker battery')
    return [
      PLAN,
      {
        ...AIRSPACE,
        aircraft: (AIRSPACE.aircraft ?? '')
          .replace(/endurance: 25 min/, `endurance: ${25 * (1 - n / 100)} min`)
          .replace(/nominal: (\d+(?:\.\d+)?) Wh/, (_, wh: string) => `nominal: ${Number(wh) * (1 - n / 100)} Wh`),
      },
    ];
  throw new Error(`the test has no edit for ${what}`);
};

describe('a day that turns out worse', async () => {
  const { input } = await prepareFixture(PLAN, AIRSPACE);
  const before = review(input);
  const stresses = stressesOf(input);

  const cases = stresses
    .filter(({ what }) => !what.startsWith('ground'))
    .flatMap(({ what, steps }) => steps.map((step) => ({ what, ...step })));

  test.each(cases)('$amount is judged as the plan edited so', async ({ what, amount, input: worse }) => {
    const [text, world] = edited(what, amount);
    const other = await prepareFixture(text, world);
    expect(told(review(worse))).toEqual(told(review(other.input)));
  });

  test('higher ground is judged as a raster that is so much higher', async () => {
    const ground = stresses.find(({ what }) => what.startsWith('ground'));
    for (const { input: worse } of ground?.steps ?? []) {
      const { terrain } = worse.world;
      if ('missing' in terrain) throw new Error('the fixture has ground');
      const height = terrain.groundAt({ lon: -120.5, lat: 47.5 } as never);
      const other = await prepareFixture(PLAN, { ...AIRSPACE, ground: { flat: `${height ?? 0} m` } });
      // The raster holds single precision, so numbers are compared as they are printed.
      expect(told(review(worse))).toEqual(told(review(other.input)));
    }
  });

  test('tells for each way the first step that finds something new, and the nearest first', () => {
    const results = stress(input, before);
    const by = (what: string) => results.find((result) => result.what.startsWith(what))?.first;
    // The gust of 9 m/s passes the craft's 10 m/s with the second knot: 9 + 2 * 0.514.
    expect(by('stronger wind')).toMatchObject({ step: 2, amount: 'wind + 2 kt' });
    expect(by('stronger wind')?.findings.map(({ rule }) => rule)).toContain('wind-above-aircraft-limit');
    // The leave ends at 07:14 and the window at 07:10.
    expect(by('later take-off')).toMatchObject({ step: 5, amount: '5 min later' });
    expect(by('later take-off')?.findings.map(({ rule }) => rule)).toContain('zone-entered-unauthorised');
    // 406 m over ground at 400 m is struck when the ground is more than 6 m higher: at the third quarter of 9.7 m.
    expect(by('ground')).toMatchObject({ step: 3 });
    expect(by('ground')?.findings.some(({ rule }) => rule.includes('ground'))).toBe(true);
    const shares = results.flatMap(({ first }) => (first === undefined ? [] : [first.step / first.of]));
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
  });

  test('a step back from the first finds nothing new', () => {
    for (const { what, first } of stress(input, before)) {
      if (first === undefined || first.step === 1) continue;
      const step = stresses.find((one) => one.what === what)?.steps[first.step - 2];
      if (step === undefined) throw new Error('no such step');
      const rules = new Set(before.findings.map(({ rule, subject }) => `${rule} ${subject}`));
      const fresh = review(step.input).findings.filter(
        ({ rule, subject, level }) => level !== 'note' && !rules.has(`${rule} ${subject}`),
      );
      expect(fresh).toEqual([]);
    }
  });
});
