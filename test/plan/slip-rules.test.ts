import { describe, expect, test } from 'vitest';
import { readHeight } from '../../server/src/plan/scalars/height.ts';
import { readPosition } from '../../server/src/plan/scalars/position.ts';
import { readAmount } from '../../server/src/plan/scalars/quantity.ts';
import type { SlipDetails } from '../../server/src/plan/scalars/reading.ts';
import { readFollows, readLegSpeed } from '../../server/src/plan/scalars/speed.ts';
import { readDate, readTime } from '../../server/src/plan/scalars/time.ts';
import type { Slip, SlipKind } from '../../server/src/plan/slip.ts';
import type { Complaint } from '../../server/src/rulebook/finding.ts';
import type { SlipRuleFor } from '../../server/src/rulebook/rule.ts';
import altitudeWithoutDatum from '../../server/src/rules/altitude-without-datum.ts';
import documentTooLarge from '../../server/src/rules/document-too-large.ts';
import formatUnknown from '../../server/src/rules/format-unknown.ts';
import itemUnknown from '../../server/src/rules/item-unknown.ts';
import keyMissing from '../../server/src/rules/key-missing.ts';
import keyRepeated from '../../server/src/rules/key-repeated.ts';
import keyUnknown from '../../server/src/rules/key-unknown.ts';
import nameRepeated from '../../server/src/rules/name-repeated.ts';
import numberOutOfRange from '../../server/src/rules/number-out-of-range.ts';
import numberUnreadable from '../../server/src/rules/number-unreadable.ts';
import numberWithoutUnit from '../../server/src/rules/number-without-unit.ts';
import positionOutOfRange from '../../server/src/rules/position-out-of-range.ts';
import positionUnreadable from '../../server/src/rules/position-unreadable.ts';
import timeUnreadable from '../../server/src/rules/time-unreadable.ts';
import unitUnknown from '../../server/src/rules/unit-unknown.ts';
import valueOfWrongKind from '../../server/src/rules/value-of-wrong-kind.ts';
import wordUnknown from '../../server/src/rules/word-unknown.ts';
import yamlBroken from '../../server/src/rules/yaml-broken.ts';
import yamlNotPlain from '../../server/src/rules/yaml-not-plain.ts';
import type { Span } from '../../server/src/text/span.ts';

const RULES: { readonly [K in SlipKind]: SlipRuleFor<K> } = {
  'altitude-without-datum': altitudeWithoutDatum,
  'document-too-large': documentTooLarge,
  'format-unknown': formatUnknown,
  'item-unknown': itemUnknown,
  'key-missing': keyMissing,
  'key-repeated': keyRepeated,
  'key-unknown': keyUnknown,
  'name-repeated': nameRepeated,
  'number-out-of-range': numberOutOfRange,
  'number-unreadable': numberUnreadable,
  'number-without-unit': numberWithoutUnit,
  'position-out-of-range': positionOutOfRange,
  'position-unreadable': positionUnreadable,
  'time-unreadable': timeUnreadable,
  'unit-unknown': unitUnknown,
  'value-of-wrong-kind': valueOfWrongKind,
  'word-unknown': wordUnknown,
  'yaml-broken': yamlBroken,
  'yaml-not-plain': yamlNotPlain,
};

const anchor = { document: 'a.mission.yaml', at: 0 };
const spanOf = (from: number, to: number): Span => ({ anchor, from, to });

/** The rules look at nothing but the slip: any use of a tool throws. */
const NO_TOOLS = new Proxy({} as never, {
  get: (_, name) => {
    throw new Error(`a slip rule asked for ${String(name)}`);
  },
});

const complaintOf = (slip: Slip): Complaint => {
  const rule = RULES[slip.kind] as unknown as SlipRuleFor<SlipKind>;
  const [judgement, ...others] = [...rule.check(slip as never, NO_TOOLS)];
  if (judgement === undefined || !('found' in judgement) || others.length > 0) throw new Error('not one finding');
  return judgement.found;
};

const expectStyle = (message: string): void => {
  expect(message).toMatch(/^[a-z"]/);
  expect(message).not.toMatch(/[.\n]$|\n/);
  expect(message).not.toMatch(/\b(must be|schema|property|expected|token|invalid|undefined|null)\b/i);
};

const placed = (details: SlipDetails, text: string): Slip => ({
  ...details,
  span: spanOf(0, text.length),
  subject: 'point ridge',
  field: 'altitude',
});

const apply = (text: string, edits: Complaint['fixes']): string => {
  const [edit] = edits?.[0]?.edits ?? [];
  return edit === undefined ? text : text.slice(0, edit.span.from) + edit.text + text.slice(edit.span.to);
};

type Read = { readonly ok: true } | { readonly ok: false; readonly slip: SlipDetails };
const READERS: Readonly<Record<string, (text: string) => Read>> = {
  length: (text) => readAmount(text, 'length'),
  time: (text) => readAmount(text, 'time'),
  angle: (text) => readAmount(text, 'angle'),
  height: (text) => readHeight(text),
  'leg speed': readLegSpeed,
  following: readFollows,
  position: readPosition,
  date: readDate,
  instant: readTime,
};

describe('what a scalar reader refuses is said in our words and can be mended', () => {
  test.each([
    ['length', '60', 'altitude of point ridge is "60", a number without a unit; write 60 m or 60 ft', '60 m'],
    [
      'length',
      '60 kg',
      'altitude of point ridge is "60 kg", and "kg" is no unit of length that is read here; write 60 m or 60 ft',
      '60 m',
    ],
    [
      'length',
      '1,5 m',
      'altitude of point ridge is "1,5 m", which is not written as a number with its unit; write 1.5 m',
      '1.5 m',
    ],
    [
      'length',
      '1,420 ft',
      'altitude of point ridge is "1,420 ft", which is not written as a number with its unit; write 1420 ft or 1.42 ft',
      '1420 ft',
    ],
    [
      'length',
      'high',
      'altitude of point ridge is "high", which is not written as a number with its unit; write a length such as 60 m',
      undefined,
    ],
    [
      'angle',
      '400 deg',
      'altitude of point ridge is "400 deg"; plan format 1 takes values between 0 deg and 360 deg',
      undefined,
    ],
    [
      'height',
      '60',
      'altitude of point ridge is "60", a number without a unit; write 60 m AGL, 60 ft AGL, 60 m AMSL, 60 ft AMSL or 60 m above take-off',
      '60 m AGL',
    ],
    [
      'height',
      '60 m',
      'altitude of point ridge is "60 m", without the datum from which it counts; write 60 m AGL, 60 m AMSL or 60 m above take-off',
      '60 m AGL',
    ],
    [
      'height',
      '60 m AGK',
      'altitude of point ridge is "60 m AGK", and "AGK" is no datum from which a height counts; write 60 m AGL, 60 m AMSL or 60 m above take-off',
      '60 m AGL',
    ],
    [
      'following',
      '60 m AMSL within 5 m',
      'altitude of point ridge is "60 m AMSL within 5 m", but here a height counts from one datum only; write 60 m AGL within 5 m',
      '60 m AGL within 5 m',
    ],
    [
      'following',
      '60 within 5',
      'altitude of point ridge is "60 within 5", a number without a unit; write each number with its unit, such as m AGL or ft AGL',
      undefined,
    ],
    [
      'leg speed',
      '8 m/s over grond',
      'altitude of point ridge is "8 m/s over grond", which is not known here; write 8 m/s over ground or 8 m/s through air',
      '8 m/s over ground',
    ],
    [
      'time',
      '1 h 30 min',
      'altitude of point ridge is "1 h 30 min", which is not written as a number with its unit; write 90 min',
      '90 min',
    ],
    [
      'position',
      '47,5021, -120,4813',
      'altitude of point ridge is "47,5021, -120,4813", which cannot be read as a position: its decimals follow a comma; a decimal point is wanted',
      '47.5021, -120.4813',
    ],
    [
      'position',
      '-120.4813, 47.5021',
      'altitude of point ridge is "-120.4813, 47.5021": latitude -120.4813 lies beyond 90 degrees; latitude comes first',
      '47.5021, -120.4813',
    ],
    ['position', '200, 300', 'altitude of point ridge is "200, 300": latitude 200 lies beyond 90 degrees', undefined],
    [
      'instant',
      '2026/06/14 06:40 -07:00',
      'altitude of point ridge is "2026/06/14 06:40 -07:00", which cannot be read: a date is written year-month-day, such as 2026-06-14; write 2026-06-14 06:40 -07:00',
      '2026-06-14 06:40 -07:00',
    ],
    [
      'instant',
      '2026-06-14 06:40',
      'altitude of point ridge is "2026-06-14 06:40", which cannot be read: the offset from UTC is missing, such as -07:00, or Z for UTC',
      undefined,
    ],
    [
      'date',
      '2026-02-30',
      'altitude of point ridge is "2026-02-30", which cannot be read: there is no 2026-02-30; that month has 28 days',
      undefined,
    ],
  ])('a %s %j', (reader, text, message, mended) => {
    const read = READERS[reader] ?? readHeight;
    const refused = read(text);
    if (refused.ok) throw new Error('it is read');
    const found = complaintOf(placed(refused.slip, text));
    expect(found.message).toBe(message);
    expectStyle(found.message);
    expect(found.subject).toBe('altitude of point ridge');
    expect(found.fixes?.[0]?.edits[0]?.text).toBe(mended);
    for (const fix of found.fixes ?? []) {
      expect(fix.title).toMatch(/^Write ".+" \(was ".+"\)$/);
      expect(read(apply(text, [fix])).ok).toBe(true);
    }
  });

  test('a single reading only changes the spelling; a choice changes the flight', () => {
    const effects = (text: string, read: (text: string) => Read): readonly string[] => {
      const refused = read(text);
      return refused.ok ? [] : (complaintOf(placed(refused.slip, text)).fixes ?? []).map(({ effect }) => effect);
    };
    expect(effects('1,5 m AGL', readHeight)).toEqual(['same-flight']);
    expect(effects('1,350 ft AMSL', readHeight)).toEqual(['changes-flight', 'changes-flight']);
    expect(effects('60 m', readHeight)).toEqual(['changes-flight', 'changes-flight', 'changes-flight']);
    expect(effects('14.06.2026', readDate)).toEqual(['same-flight']);
    expect(effects('-120.4813, 47.5021', readPosition)).toEqual(['changes-flight']);
  });
});

describe('a mended text is written so that YAML reads it as one value', () => {
  const fixed = (written: string, details: SlipDetails): string =>
    apply(written, complaintOf(placed(details, written)).fixes);

  test('a plain value stays plain', () => {
    expect(
      fixed('60', { kind: 'number-without-unit', text: '60', number: '60', units: ['m'], couldBe: ['60 m'] }),
    ).toBe('60 m');
  });

  test('a quoted value keeps its quotes only where it needs them', () => {
    const details: SlipDetails = {
      kind: 'position-out-of-range',
      text: '-120.4, 47.5',
      reason: 'x',
      mended: '47.5, -120.4',
    };
    expect(fixed('"-120.4, 47.5"', details)).toBe('"47.5, -120.4"');
    expect(fixed('-120.4, 47.5', details)).toBe('47.5, -120.4');
    const bare: SlipDetails = {
      kind: 'number-without-unit',
      text: '60',
      number: '60',
      units: ['m'],
      couldBe: ['60 m'],
    };
    expect(fixed("'60'", bare)).toBe('60 m');
  });

  test('a comma that the value did not hold before brings quotes, since between { } it would end the value', () => {
    const details: SlipDetails = { kind: 'position-unreadable', text: '47.5 8.4', reason: 'x', mended: '47.5, 8.4' };
    expect(fixed('47.5 8.4', details)).toBe('"47.5, 8.4"');
  });

  test('double quotes within are escaped', () => {
    const text = '120°28\'52", 47°30\'07"';
    const mended = '47°30\'07", 120°28\'52"';
    const details: SlipDetails = { kind: 'position-out-of-range', text, reason: 'x', mended };
    expect(apply(`'${text}'  `, complaintOf({ ...placed(details, ''), span: spanOf(0, text.length + 2) }).fixes)).toBe(
      '"47°30\'07\\", 120°28\'52\\""  ',
    );
  });
});

describe('what the reader of the document refuses', () => {
  const at = { span: spanOf(4, 9), subject: 'the plan' };
  const first = spanOf(0, 3);
  const slips: readonly (readonly [Slip, string, readonly string[]])[] = [
    [
      { ...at, kind: 'yaml-broken', reason: 'the quote opened here is never closed' },
      'the plan cannot be read here: the quote opened here is never closed',
      [],
    ],
    [
      { ...at, kind: 'yaml-not-plain', what: 'tag', text: '!!str' },
      'the plan uses a tag ("!!str"), which plans do not have; what depends on it is not read',
      ['Take out "!!str"'],
    ],
    [
      { ...at, kind: 'yaml-not-plain', what: 'second document', text: '---' },
      'the plan uses a second document, which plans do not have; what depends on it is not read',
      [],
    ],
    [
      { ...at, kind: 'document-too-large', reason: 'a route is read up to 10000 items' },
      'the plan is not read here: a route is read up to 10000 items',
      [],
    ],
    [
      { ...at, kind: 'key-repeated', key: 'country', first },
      '"country" stands twice in the plan, and only one of its two values can hold',
      [],
    ],
    [
      { ...at, kind: 'key-unknown', key: 'porpo', suggestion: 'purpose', others: 0 },
      '"porpo" is no key of the plan, so what stands under it is not read; did you mean "purpose"?',
      ['Write "purpose" (was "porpo")'],
    ],
    [
      { ...at, kind: 'key-unknown', key: 'notes', others: 7 },
      '"notes" is no key of the plan, nor are 7 other keys there, so what stands under it is not read',
      [],
    ],
    [
      { ...at, kind: 'key-unknown', key: 'notes', others: 1 },
      '"notes" is no key of the plan, nor is another key there, so what stands under it is not read',
      [],
    ],
    [
      {
        ...at,
        subject: 'point ridge',
        kind: 'key-missing',
        key: 'altitude',
        skeleton: '\n    altitude:',
        insertAt: first,
      },
      'point ridge has no "altitude", which plan format 1 requires',
      [],
    ],
    [
      { ...at, kind: 'key-missing', key: 'mission', skeleton: 'mission: 1\n', insertAt: first },
      'the plan has no "mission", which plan format 1 requires',
      ['Add "mission: 1"'],
    ],
    [
      { ...at, subject: 'point ridge', kind: 'key-missing', key: 'at' },
      'point ridge has no "at", which plan format 1 requires',
      [],
    ],
    [
      { ...at, field: 'people', kind: 'value-of-wrong-kind', expected: 'keys and values', found: '"nobody"' },
      'people of the plan holds "nobody"; it takes keys and values',
      [],
    ],
    [
      {
        ...at,
        subject: 'crew pilot',
        field: 'watches',
        kind: 'word-unknown',
        text: 'gogle',
        choices: ['unaided', 'goggles'],
        suggestion: 'goggles',
      },
      'watches of crew pilot is "gogle", which is not known here; write goggles or unaided',
      ['Write "goggles" (was "gogle")', 'Write "unaided" (was "gogle")'],
    ],
    [
      { ...at, subject: 'point ridge', kind: 'name-repeated', name: 'ridge', first, mended: 'ridge-2' },
      '"ridge" names two items of the route, so a finding about one can be taken for the other',
      ['Write "ridge-2" (was "ridge")'],
    ],
    [
      { ...at, subject: 'the route', kind: 'item-unknown', keys: ['piont', 'at'], suggestion: 'point' },
      'the route has the keys "piont" and "at" and none that tells what it is, such as "point"',
      ['Write "point" (was "piont")'],
    ],
    [
      { ...at, subject: 'the route', kind: 'item-unknown', keys: [] },
      'the route has no keys and none that tells what it is, such as "point" or "area"',
      [],
    ],
    [
      { ...at, field: 'mission', kind: 'format-unknown', text: '2' },
      'the plan is of format "2"; only format 1 is read, so values may be misunderstood',
      ['Write "1" (was "2")'],
    ],
    [
      {
        ...at,
        subject: 'window',
        field: 'from',
        kind: 'time-unreadable',
        text: 'tomorrow',
        reason: 'a date is written year-month-day',
      },
      'window "from" is "tomorrow", which cannot be read: a date is written year-month-day',
      [],
    ],
  ];

  test.each(slips)('%o', (slip, message, titles) => {
    const found = complaintOf(slip);
    expect(found.message).toBe(message);
    expectStyle(found.message);
    expect(found.at).toBe(slip.span);
    expect((found.fixes ?? []).map(({ title }) => title)).toEqual(titles);
  });

  test('a position in two scalars is mended in both', () => {
    const edits = [
      { span: spanOf(5, 11), text: '47.5' },
      { span: spanOf(18, 22), text: '-120.4' },
    ];
    const read = readPosition('-120.4, 47.5');
    if (read.ok || read.slip.kind !== 'position-out-of-range') throw new Error('it is read');
    const { swapped, reason, kind } = read.slip;
    if (swapped === undefined) throw new Error('it is not swapped');
    const found = complaintOf({ ...at, field: 'at', kind, text: '-120.4', reason, swapped, edits });
    expect(found.message).toBe(
      'position of the plan is "-120.4": latitude -120.4 lies beyond 90 degrees; latitude comes first',
    );
    expect(found.fixes).toEqual([
      { title: 'Swap latitude and longitude to 47.5, -120.4 (was "-120.4")', effect: 'changes-flight', edits },
    ]);
  });

  test('a repeated key or name shows where it stood first', () => {
    expect(complaintOf({ ...at, kind: 'key-repeated', key: 'country', first }).related?.[0]?.at).toBe(first);
    expect(complaintOf({ ...at, kind: 'name-repeated', name: 'a', first, mended: 'a-2' }).related?.[0]?.at).toBe(first);
  });

  test('long texts are cut in messages, and line breaks do not get into them', () => {
    const { message } = complaintOf({ ...at, kind: 'time-unreadable', text: `a\nb${'c'.repeat(500)}`, reason: 'x' });
    expect(message.length).toBeLessThan(150);
    expectStyle(message);
  });
});

test('every slip rule teaches: its title, reason, condition and remedy are sentences or faults in plain words', () => {
  for (const [kind, rule] of Object.entries(RULES)) {
    expect(rule.slip).toBe(kind);
    expect(rule.title).toMatch(/^(a|an|the|two) [^.]+[^.]$/);
    for (const text of [rule.why, rule.condition, rule.mend]) expect(text).toMatch(/^[A-Z].{20,}\.$/s);
    expect(rule.example.faulty).not.toBe(rule.example.sound);
  }
});
