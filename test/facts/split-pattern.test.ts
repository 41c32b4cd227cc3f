import { describe, expect, test } from 'vitest';
import { flownItems } from '../../server/src/facts/flown-legs.ts';
import { patternPoints } from '../../server/src/facts/pattern.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { NO_SETTINGS } from '../../server/src/plan/settings.ts';
import { memo } from '../../server/src/review/memo.ts';
import type { RuleTools } from '../../server/src/rulebook/rule.ts';
import { splitPattern } from '../../server/src/rulebook/split-pattern.ts';
import { endOf, startOf } from '../../server/src/text/span.ts';
import { instant } from '../../server/src/units/frames.ts';
import { LEVEL_GROUND, SITE, worldWith } from './made-plan.ts';

const WORLD = worldWith([LEVEL_GROUND]);

const read = (text: string) => {
  const plan = readPlan(text, 'made.mission.yaml');
  const tools: RuleTools = {
    ...memo({ plan, world: WORLD, settings: NO_SETTINGS, ruleSet: 'us-part-107', now: instant(0) }),
    ruleNames: { all: [], practice: new Set() },
  };
  return { plan, tools };
};

const itemOf = (text: string, name: string) => {
  const { plan, tools } = read(text);
  const item = plan.items.find(({ id }) => id.value === name);
  if (item === undefined) throw new Error(`no ${name}`);
  return { item, tools, plan };
};

const split = (text: string, afterLine: number, name = 'meadow'): string | undefined => {
  const { item, tools } = itemOf(text, name);
  const fix = splitPattern(item, afterLine, tools);
  if (fix === undefined) return undefined;
  expect(fix.title).toBe(`Change the battery after line ${afterLine} of ${name}`);
  return [...fix.edits]
    .sort((one, other) => startOf(other.span) - startOf(one.span))
    .reduce((all, { span, text: put }) => all.slice(0, startOf(span)) + put + all.slice(endOf(span)), text);
};

/** Where the craft flies on lines, without ends that the split leaves aside. */
const placesOf = (text: string): readonly (readonly [number, string])[] => {
  const { plan, tools } = read(text);
  expect(plan.slips).toEqual([]);
  return plan.flights
    .flatMap((flight) => tools.ask(flownItems, flight))
    .flatMap(({ partOf, at }) =>
      partOf === undefined || at === undefined
        ? []
        : [[partOf.line, `${at.value.lat.toFixed(7)} ${at.value.lon.toFixed(7)}`] as const],
    );
};

const HEAD = `mission: 1\ntitle: made for a test\npurpose: survey for a client\n${SITE}`;
const BLOCK = `${HEAD}route:
  - take-off: home
    climb-to: 50 m AGL
  - survey: meadow # the wet one
    inside: { polygon: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.5 }, { lat: 47.501, lon: -120.499 }, { lat: 47.5, lon: -120.499 }] }
    altitude: 200 ft AGL
    course: 77.5 deg
    overlap: { front: 75 %, side: 65 % }
    camera: { sensor: { across: 13.2 mm, along: 8.8 mm }, image: { across: 5472, along: 3648 }, focal-length: 8.8 mm, shutter: 1/1250 s, stops: 1.5 s }
    ground-sampling-distance: 2 cm
    first-turn: left
    speed: 12 kt over ground
    follows: 200 ft AGL within 5 m
    leg: { speed: 8 m/s through air }
  - land: home
`;

describe('a survey that is parted by a change of battery', () => {
  test('flies the same lines in two flights, with every word of it kept', () => {
    const parted = split(BLOCK, 2) ?? '';
    expect(parted).toContain('- survey: meadow\n    last-line: 2 # the wet one\n');
    expect(placesOf(parted)).toEqual(placesOf(BLOCK));
    const { plan } = read(parted);
    expect(plan.items.map(({ kind, id }) => `${kind} ${id.value}`)).toEqual([
      'take-off home',
      'survey meadow',
      'land home',
      'battery fresh',
      'take-off home',
      'survey meadow-2',
      'land home',
    ]);
    const [one, other] = [itemOf(parted, 'meadow').item, itemOf(parted, 'meadow-2').item];
    const bare = (item: typeof one): unknown =>
      JSON.parse(
        JSON.stringify({ pattern: item.pattern, leg: item.leg }, (key, value) =>
          ['span', 'parts', 'outlineSpan', 'nextKey', 'firstLine', 'lastLine', 'number', 'unit'].includes(key)
            ? undefined
            : value,
        ),
      );
    expect(bare(other)).toEqual(bare(one));
    expect(plan.flights.map(({ first }) => first.climbTo?.number)).toEqual([50, 50]);
  });

  test('can be parted again', () => {
    const once = split(BLOCK, 2) ?? '';
    const twice = split(once, 3, 'meadow-2') ?? '';
    expect(placesOf(twice)).toEqual(placesOf(BLOCK));
    expect(itemOf(twice, 'meadow-2').item.pattern).toMatchObject({ firstLine: { value: 3 }, lastLine: { value: 3 } });
    const before = split(once, 1) ?? '';
    expect(placesOf(before)).toEqual(placesOf(BLOCK));
    expect(itemOf(before, 'meadow').item.pattern).toMatchObject({ lastLine: { value: 1 } });
  });

  test('keeps the line breaks of its text, and its brackets', () => {
    const windows = BLOCK.replaceAll('\n', '\r\n');
    const parted = split(windows, 1) ?? '';
    expect(parted.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(placesOf(parted)).toEqual(placesOf(BLOCK));
    const flow = `${HEAD}route: [{ take-off: home, climb-to: 50 m AGL }, { corridor: path, along: [{ lat: 47.5, lon: -120.5 }, { lat: 47.501, lon: -120.499 }], width: 60 m, lines: 3, altitude: 60 m AGL }, { land: home }]\n`;
    const corridor = split(flow, 1, 'path') ?? '';
    expect(corridor).toContain('{ corridor: path, last-line: 1, along:');
    expect(placesOf(corridor)).toEqual(placesOf(flow));
  });

  test('is not offered where no line would be left, nor for a circle', () => {
    const count = itemOf(BLOCK, 'meadow').tools.ask(patternPoints, itemOf(BLOCK, 'meadow').item).length;
    expect(count).toBeGreaterThan(4);
    for (const line of [0, count / 2, 99]) expect(split(BLOCK, line)).toBeUndefined();
    const circle = `${HEAD}route:\n  - take-off: home\n  - circle: tower\n    around: 47.5, -120.5\n    radius: 30 m\n    turns: 3\n    altitude: 45 m AGL\n  - land: home\n`;
    expect(split(circle, 1, 'tower')).toBeUndefined();
  });
});

describe('lines from one on and up to another', () => {
  const survey = (rest: string): string =>
    `${HEAD}route:\n  - take-off: home\n  - { survey: meadow, inside: { circle: 50 m, around: { lat: 47.5, lon: -120.5 } }, altitude: 60 m AGL, course: 0 deg, spacing: 20 m, ${rest} }\n  - land: home\n`;

  test('are flown in the direction that they have in the whole', () => {
    const whole = placesOf(survey('first-turn: right'));
    expect(placesOf(survey('first-line: 2, last-line: 3'))).toEqual(whole.filter(([line]) => line === 2 || line === 3));
    expect(placesOf(survey('last-line: 90'))).toEqual(whole);
  });

  test('that are not there are told', () => {
    const why = (rest: string): string => {
      const { item, tools } = itemOf(survey(rest), 'meadow');
      try {
        tools.ask(patternPoints, item);
      } catch (error) {
        return error instanceof Error ? error.message : '';
      }
      return '';
    };
    expect(why('first-line: 6')).toContain('meadow has 5 lines and begins with line 6');
    expect(why('first-line: 3, last-line: 2')).toContain(
      'meadow begins with line 3 and ends with line 2, which comes before it',
    );
  });
});
