import { describe, expect, test } from 'vitest';
import type { Plan } from '../../server/src/plan/model.ts';
import { pathAt } from '../../server/src/plan/path-at.ts';
import { readPlan, readPlanDocument } from '../../server/src/plan/read.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import type { Slip } from '../../server/src/plan/slip.ts';
import { endOf, type Span, startOf } from '../../server/src/text/span.ts';
import { SAMPLE_PLAN } from '../support/sample-plan.ts';

const at = (text: string, span: Span): string => text.slice(startOf(span), endOf(span));

/** A slip as a line: kind, text it stands on, subject and field. */
const say = (text: string, { kind, span, subject, field }: Slip): string =>
  `${kind} on "${at(text, span)}" of ${subject}${field === undefined ? '' : `: ${field}`}`;

const slipsOf = (text: string): readonly string[] => readPlan(text, 'plan').slips.map((slip) => say(text, slip));

/** The sample plan with one text replaced, which must be there. */
const changed = (from: string, to: string): string => {
  expect(SAMPLE_PLAN).toContain(from);
  return SAMPLE_PLAN.replace(from, () => to);
};

const only = (text: string): Slip => {
  const { slips } = readPlan(text, 'plan');
  expect(slips).toHaveLength(1);
  const [slip] = slips;
  if (slip === undefined) throw new Error('no slip');
  return slip;
};

describe('a plan in order is read as written', () => {
  const plan = readPlan(SAMPLE_PLAN, 'here.mission.yaml');

  test('nothing is wrong with it', () => {
    expect(plan.slips).toEqual([]);
    expect(plan.unread).toEqual([]);
    expect(plan.items.every(({ unread }) => !unread)).toBe(true);
  });

  test('values carry what was written, its value in SI, and its place', () => {
    expect(plan.title?.value).toBe('Reed-bed survey, north shore');
    expect(plan.aircraft?.value).toBe('../fleet/bittern-2.aircraft.yaml');
    expect(plan.window?.from?.value.offsetMinutes).toBe(-420);
    expect(plan.site.takeOff?.at?.value).toEqual({ lat: 47.5021, lon: -120.4813 });
    expect(plan.site.takeOff?.elevation).toMatchObject({ number: 402, unit: 'm', value: 402 });
    expect(plan.site.permission?.given?.value).toEqual({ year: 2026, month: 6, day: 2 });
    expect(plan.crew.pilot).toMatchObject({
      role: 'pilot',
      stands: { value: 'take-off' },
      held: { value: 'remote pilot' },
    });
    expect(plan.terrain.map(({ value }) => value)).toEqual(['../world/lakes.tif']);
    expect(plan.airspace.map(({ value }) => value)).toEqual(['../world/zones.geojson']);
    expect(plan.people).toMatchObject({ key: 'people', noneWithin: { value: 150 }, by: { value: 'pilot' } });
    expect(plan.lostLink).toMatchObject({
      after: { value: 5 },
      climbTo: { value: { aboveTakeOff: 90 }, datum: 'above take-off' },
      action: { value: 'fly back and land' },
    });
    const [, point, area] = plan.items;
    expect(point).toMatchObject({
      kind: 'point',
      id: { value: 'reed-bed' },
      at: { value: { lat: 47.5032, lon: -120.4801 } },
      altitude: { number: 60, unit: 'm', datum: 'AGL', value: { aboveGround: 60 } },
      leg: { speed: { value: 8 }, speedIs: 'over ground' },
    });
    expect(area).toMatchObject({
      kind: 'area',
      area: {
        inside: { kind: 'circle', radius: { value: 25 }, around: { value: { lat: 47.5035, lon: -120.479 } } },
        from: { value: { aboveGround: 5 } },
        to: { value: { aboveGround: 40 } },
        lasts: { value: 240 },
      },
    });
    if (point?.altitude === undefined) throw new Error('no altitude');
    expect(at(SAMPLE_PLAN, point.altitude.span)).toBe('60 m AGL');
    expect(at(SAMPLE_PLAN, point.id.span)).toBe('reed-bed');
    expect(at(SAMPLE_PLAN, plan.titleSpan)).toBe('Reed-bed survey, north shore');
    expect(startOf(plan.headEnd)).toBe(SAMPLE_PLAN.indexOf('route:'));
    expect(plan.routeSpan && at(SAMPLE_PLAN, plan.routeSpan)).toBe('route');
  });

  test('an acceptance knows the item it stands on', () => {
    const area = plan.items[2];
    expect(area?.accepts[0]).toMatchObject({ rule: { value: 'gust-near-limit' }, upTo: { value: 11, unit: 'm/s' } });
    expect(area?.accepts[0]?.item).toBe(area);
    expect(plan.accepts).toEqual([]);
  });

  test('an item says where text can be put in before it', () => {
    const point = plan.items[1];
    expect(point?.insertion).toMatchObject({ indent: '  ', style: 'block' });
    expect(point && startOf(point.insertion.at)).toBe(SAMPLE_PLAN.indexOf('  - point'));
  });

  test('the same plan with other line breaks, a byte order mark or a route in brackets is the same plan', () => {
    const essence = (text: string) => {
      const { items, flights, slips, purpose, lostLink } = readPlan(text, 'plan');
      return [
        items.map((i) => [i.kind, i.id.value, i.at?.value, i.altitude?.value]),
        flights.length,
        slips,
        purpose?.value,
        lostLink?.after?.value,
      ];
    };
    const plain = essence(SAMPLE_PLAN);
    expect(essence(SAMPLE_PLAN.replaceAll('\n', '\r\n'))).toEqual(plain);
    expect(essence(SAMPLE_PLAN.replaceAll('\n', '\r'))).toEqual(plain);
    expect(essence(`\ufeff${SAMPLE_PLAN}`)).toEqual(plain);
    expect(essence(`---\n${SAMPLE_PLAN}...\n`)).toEqual(plain);
    const flow = `${SAMPLE_PLAN.slice(0, SAMPLE_PLAN.indexOf('route:'))}route: [{ take-off: home }, { point: reed-bed, at: "47.5032, -120.4801", altitude: 60 m AGL }, { area: old-jetty, inside: { circle: 25 m, around: { lat: 47.5035, lon: -120.479 } }, from: 5 m AGL, to: 40 m AGL, for: 4 min }, { land: home }]\nlost-link: { after: 5 s, then: fly back and land }\n`;
    expect(essence(flow)).toEqual(plain);
  });
});

describe('legs and flights', () => {
  const legs = (plan: Plan): readonly string[] =>
    plan.flights.map((flight) => flight.legs.map(({ from, to }) => `${from.id.value}>${to.id.value}`).join(' '));
  const route = (...items: readonly string[]): Plan =>
    readPlan(`mission: 1\ntitle: a\npurpose: b\nroute:\n${items.map((item) => `- { ${item} }\n`).join('')}`, 'plan');
  const point = (name: string): string => `point: ${name}, at: "1, 2", altitude: 3 m AGL`;

  const SURVEY =
    'survey: s, inside: { circle: 40 m, around: { lat: 1, lon: 2 } }, altitude: 30 m AGL, course: 90 deg, spacing: 20 m';

  test('a leg joins neighbours that have a place; a hold and a change of battery make none', () => {
    const plan = route('take-off: a', 'hold: 10 s', point('p'), 'battery: second', SURVEY, 'land: a');
    expect(plan.slips).toEqual([]);
    expect(legs(plan)).toEqual(['a>p p>s s>a']);
    expect(plan.items[1]).toMatchObject({ kind: 'hold', id: { value: 'hold' }, hold: { value: 10 } });
    expect(plan.items[4]).toMatchObject({ kind: 'survey', unread: false });
  });

  test('a second take-off begins a new flight', () => {
    const plan = route('take-off: a', point('p'), 'land: a', 'take-off: a', point('q'), 'land: a');
    expect(plan.slips).toEqual([]);
    expect(legs(plan)).toEqual(['a>p p>a', 'a>q q>a']);
    expect(plan.flights.map(({ number, first }) => [number, first.kind])).toEqual([
      [1, 'take-off'],
      [2, 'take-off'],
    ]);
  });

  test('what stands before the first take-off is a flight of its own', () => {
    expect(legs(route(point('p'), 'take-off: a', 'land: a'))).toEqual(['', 'a>a']);
  });

  test('an item that cannot be read is not flown past', () => {
    const plan = route('take-off: a', 'pont: p', 'land: a');
    expect(plan.items[1]).toMatchObject({ kind: 'unread', unread: true });
    expect(legs(plan)).toEqual(['a>the unread item the unread item>a']);
  });
});

describe('each mistake is one slip, where it stands', () => {
  const cases: readonly (readonly [name: string, from: string, to: string, ...slips: string[]])[] = [
    ['a bare number', '60 m AGL', '60', 'number-without-unit on "60" of point reed-bed: altitude'],
    ['a height without its datum', '60 m AGL', '60 m', 'altitude-without-datum on "60 m" of point reed-bed: altitude'],
    ['a time like 12:30', 'for: 4 min', 'for: 12:30', 'number-unreadable on "12:30" of area old-jetty: for'],
    ['no', 'for: 4 min', 'for: no', 'number-unreadable on "no" of area old-jetty: for'],
    ['010', 'elevation: 402 m', 'elevation: 010 m', 'number-unreadable on "010 m" of site take-off: elevation'],
    ['1_000', 'elevation: 402 m', 'elevation: 1_000', 'number-without-unit on "1_000" of site take-off: elevation'],
    ['.nan', 'elevation: 402 m', 'elevation: .nan', 'number-unreadable on ".nan" of site take-off: elevation'],
    ['.inf', '60 m AGL', '.inf', 'number-unreadable on ".inf" of point reed-bed: altitude'],
    ['true', '60 m AGL', 'true', 'value-of-wrong-kind on "true" of point reed-bed: altitude'],
    ['nothing', 'altitude: 60 m AGL', 'altitude:', 'value-of-wrong-kind on "altitude" of point reed-bed: altitude'],
    ['a list for a value', '60 m AGL', '[60 m AGL]', 'value-of-wrong-kind on "[60 m AGL]" of point reed-bed: altitude'],
    [
      'a decimal comma in braces',
      'circle: 25 m',
      'circle: 2,5 m',
      'number-unreadable on "2,5 m" of area old-jetty: inside circle',
    ],
    [
      'a comma in a latitude in braces',
      'lat: 47.5021',
      'lat: 47,5021',
      'position-unreadable on "47,5021" of site take-off: lat',
    ],
    [
      'a text with commas in braces',
      'short and low',
      'short, low',
      'value-of-wrong-kind on "short, low" of area old-jetty: accepts 1 because',
    ],
    [
      'a position in brackets',
      '47.5032, -120.4801',
      '[47.5032, -120.4801]',
      'value-of-wrong-kind on "[47.5032, -120.4801]" of point reed-bed: at',
    ],
    ['an unknown key', 'altitude:', 'altitud:', 'key-unknown on "altitud" of point reed-bed: altitud'],
    ['a missing key', '    altitude: 60 m AGL\n', '', 'key-missing on "reed-bed" of point reed-bed'],
    ['a missing key in a group', 'none-within: 150 m, ', '', 'key-missing on "people" of the plan: people'],
    ['a missing first key', 'mission: 1\n', '', 'key-missing on "Reed-bed survey, north shore" of the plan'],
    ['a repeated key', 'country: US', 'country: US\ncountry: FR', 'key-repeated on "country" of the plan: country'],
    [
      'a repeated key in the tail',
      'lost-link:',
      'title: again\nlost-link:',
      'key-repeated on "title" of the plan: title',
    ],
    [
      'an unknown word',
      'fly back and land',
      'flyback and land',
      'word-unknown on "flyback and land" of lost-link: then',
    ],
    [
      'a pilot who stands nowhere',
      'stands: take-off',
      'stands: takeof',
      'word-unknown on "takeof" of crew pilot: stands',
    ],
    ['an unknown item', '- land: home', '- lnd: home', 'item-unknown on "lnd" of the route'],
    ['an item that is a word', '- land: home', '- home', 'item-unknown on "home" of the route'],
    ['another format', 'mission: 1', 'mission: 2', 'format-unknown on "2" of the plan: mission'],
    [
      'swapped halves',
      'lat: 47.5021, lon: -120.4813',
      'lat: -120.4813, lon: 47.5021',
      'position-out-of-range on "-120.4813" of site take-off: lat',
    ],
    ['a time without its offset', '07:10 -07:00', '07:10', 'time-unreadable on "2026-06-14 07:10" of window: until'],
    ['a day that is none', '2025-11-03', '2025-02-30', 'time-unreadable on "2025-02-30" of crew pilot: tested'],
    ['a repeated name', 'point: reed-bed', 'point: home', 'name-repeated on "home" of point home'],
    ['an alias', 'US', '*us', 'yaml-not-plain on "*us" of the plan'],
    ['an anchor', 'US', '&us US', 'yaml-not-plain on "&us" of the plan'],
    ['a tag', '60 m AGL', '!!str 60 m AGL', 'yaml-not-plain on "!!str" of point reed-bed'],
    [
      'a merge key',
      '    altitude',
      '    <<: { altitude: 3 }\n    altitude',
      'yaml-not-plain on "<<" of point reed-bed',
    ],
    ['a key that is no text', 'country: US', '? [a, b]\n: c', 'yaml-not-plain on "[a, b]" of the plan'],
    ['a second document', 'lost-link:', '---\nlost-link:', 'yaml-not-plain on "---" of the plan'],
    ['a directive', 'mission: 1', '%YAML 1.2\n---\nmission: 1', 'yaml-not-plain on "%YAML 1.2" of the plan'],
    ['an unclosed quote', '60 m AGL', '"60 m AGL', 'yaml-broken on """ of point reed-bed'],
    [
      'an unclosed brace',
      '{ speed: 8 m/s over ground }',
      '{ speed: 8 m/s over ground',
      'yaml-broken on "{" of point reed-bed',
    ],
    ['a closing bracket too many', '60 m AGL', '60 m AGL\n    ]', 'yaml-broken on "]" of point reed-bed'],
    ['a tab', '    altitude', '\taltitude', 'yaml-broken on "\t" of point reed-bed'],
    [
      'a line without a colon',
      '    altitude: 60 m AGL\n',
      '    altitude 60 m AGL\n',
      'yaml-broken on "altitude 60 m AGL" of point reed-bed',
    ],
    ['a second colon', 'title: Reed-bed', 'title: Reed: bed', 'yaml-broken on "R" of the plan'],
    [
      'a polygon of bare numbers',
      '{ circle: 25 m, around: { lat: 47.5035, lon: -120.4790 } }',
      '{ polygon: [47.1, -120.1, 47.2, -120.2] }',
      'position-unreadable on "[47.1, -120.1, 47.2, -120.2]" of area old-jetty: inside polygon',
    ],
    [
      'a circle without its middle',
      ', around: { lat: 47.5035, lon: -120.4790 }',
      '',
      'key-missing on "inside" of area old-jetty: inside',
    ],
    [
      'a circle that is a polygon too',
      'circle: 25 m,',
      'circle: 25 m, polygon: [],',
      'value-of-wrong-kind on "[]" of area old-jetty: inside polygon',
    ],
    [
      'an empty route',
      SAMPLE_PLAN.slice(SAMPLE_PLAN.indexOf('route:'), SAMPLE_PLAN.indexOf('lost-link')),
      'route: []\n',
      'value-of-wrong-kind on "[]" of the plan: route',
    ],
  ];
  for (const [name, from, to, ...expected] of cases) {
    test(name, () => {
      expect(slipsOf(changed(from, to))).toEqual(expected);
    });
  }

  test('every one of them leaves the value out of the plan, and marks it as unread', () => {
    const text = changed('altitude: 60 m AGL', 'altitude: 60');
    const plan = readPlan(text, 'plan');
    expect(plan.items[1]?.altitude).toBeUndefined();
    expect(plan.items[1]?.unread).toBe(true);
    expect(plan.unread.map((span) => at(text, span))).toEqual(['60']);
    const tagged = readPlan(changed('60 m AGL', '!!str 60 m AGL'), 'plan');
    expect(tagged.items[1]?.altitude).toBeUndefined();
    const twice = readPlan(changed('country: US', 'country: US\ncountry: FR'), 'plan');
    expect(twice.country).toBeUndefined();
  });
});

describe('slips help to mend', () => {
  test('an unknown key suggests the nearest one, and that one is not missing as well', () => {
    expect(only(changed('altitude:', 'Altitude:'))).toMatchObject({
      key: 'Altitude',
      suggestion: 'altitude',
      others: 0,
    });
  });

  test('more than five unknown keys in one group are one slip with the number of the others', () => {
    const keys = ['q1', 'q2', 'q3', 'q4', 'q5', 'q6'].map((key) => `${key}: x\n`).join('');
    expect(only(`${SAMPLE_PLAN}${keys}`)).toMatchObject({ kind: 'key-unknown', key: 'q1', others: 5 });
    expect(readPlan(`${SAMPLE_PLAN}${keys.replace('q6: x\n', '')}`, 'plan').slips).toHaveLength(5);
  });

  const apply = (text: string, { span, text: put }: { readonly span: Span; readonly text: string }): string =>
    text.slice(0, startOf(span)) + put + text.slice(endOf(span));

  test('a missing key comes with text that puts it in where it belongs', () => {
    const cases: readonly (readonly [text: string, line: string])[] = [
      [changed('    altitude: 60 m AGL\n', ''), '    leg: { speed: 8 m/s over ground }\n    altitude:\n'],
      [changed('none-within: 150 m, ', ''), 'by: pilot, none-within:  }'],
      [changed('mission: 1\n', ''), 'by: pilot }\nmission: 1\nroute:\n'],
      [changed('    altitude: 60 m AGL\n', '').replaceAll('\n', '\r\n'), 'ground }\r\n    altitude:\r\n'],
      [
        changed('    altitude: 60 m AGL\n', '').replace('over ground }\n', 'over ground } # slow\n'),
        '# slow\n    altitude:\n',
      ],
    ];
    for (const [text, line] of cases) {
      const slip = only(text);
      if (slip.kind !== 'key-missing' || slip.insertAt === undefined) throw new Error('no place to put it in');
      const mended = apply(text, { span: slip.insertAt, text: slip.skeleton ?? '' });
      expect(mended).toContain(line);
      expect(readPlan(mended, 'plan').slips.some(({ kind }) => kind === 'key-missing' || kind === 'yaml-broken')).toBe(
        false,
      );
    }
  });

  test('swapped halves come with both edits', () => {
    const text = changed('lat: 47.5021, lon: -120.4813', 'lat: -120.4813, lon: 47.5021');
    const slip = only(text);
    if (slip.kind !== 'position-out-of-range') throw new Error(slip.kind);
    const mended = [...(slip.edits ?? [])].reverse().reduce(apply, text);
    expect(mended).toBe(SAMPLE_PLAN);
  });

  test('a value that a comma cut in two comes mended, over both parts', () => {
    const slip = only(changed('circle: 25 m', 'circle: 2,5 m'));
    if (slip.kind !== 'number-unreadable') throw new Error(slip.kind);
    expect(apply(changed('circle: 25 m', 'circle: 2,5 m'), { span: slip.span, text: slip.mended ?? '' })).toBe(
      changed('circle: 25 m', 'circle: 2.5 m'),
    );
    const position = changed(
      'at: 47.5032, -120.4801\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s over ground }\n',
      'x: x\n',
    ).replace('- point: reed-bed\n    x: x\n', '- { point: reed-bed, at: 47.5032, -120.4801, altitude: 60 m AGL }\n');
    const cut = only(position);
    if (cut.kind !== 'position-unreadable') throw new Error(cut.kind);
    expect(readPlan(apply(position, { span: cut.span, text: cut.mended ?? '' }), 'plan').slips).toEqual([]);
  });

  test('a repeated name comes with one that is free', () => {
    const text = changed('area: old-jetty', 'area: reed-bed').replace(
      '- land: home',
      '- area: reed-bed-2\n    inside: { circle: 5 m, around: { lat: 1, lon: 1 } }\n    from: 1 m AGL\n    to: 2 m AGL\n    for: 1 min\n  - land: home',
    );
    const slip = only(text);
    expect(slip).toMatchObject({ kind: 'name-repeated', name: 'reed-bed', mended: 'reed-bed-3' });
  });
});

describe('obstacles', () => {
  const withObstacles = (text: string): Plan => readPlan(`${SAMPLE_PLAN}obstacles: ${text}\n`, 'plan');

  test('a statement is told by none-above', () => {
    const plan = withObstacles('{ none-above: 20 m AGL, seen: 2026-06-12, by: pilot }');
    expect(plan.slips).toEqual([]);
    expect(plan.obstacles).toMatchObject({
      kind: 'statement',
      key: 'obstacles',
      noneAbove: { value: { aboveGround: 20 } },
    });
  });

  test('a list has files and obstacles of its own', () => {
    const plan = withObstacles(
      '{ files: [masts.geojson], listed: [{ name: mast, at: "47.5, -120.4", top: 45 m AGL, radius: 3 m }] }',
    );
    expect(plan.slips).toEqual([]);
    expect(plan.obstacles).toMatchObject({
      kind: 'list',
      files: [{ value: 'masts.geojson' }],
      listed: [{ radius: { value: 3 } }],
    });
  });

  test('both at once, and neither, are told', () => {
    expect(withObstacles('{ none-above: 20 m AGL, seen: 2026-06-12, by: pilot, files: [a] }').slips).toMatchObject([
      { field: 'files' },
    ]);
    expect(withObstacles('{}').slips).toMatchObject([{ kind: 'value-of-wrong-kind' }]);
    expect(withObstacles('{ seen: 2026-06-12, by: pilot }').slips.length).toBeGreaterThan(0);
  });
});

describe('aircraft and settings files', () => {
  test('an aircraft file is read as written', () => {
    const aircraft = readAircraft(
      'aircraft: 1\nname: bittern-2\nkind: multirotor\nmass: 1.2 kg\nsize: 0.6 m\nmax-speed: 15 m/s\nmax-wind: 10 m/s\nendurance: 25 min\neu-class: C1\nregistration: { number: FA0000000X, expires: 2028-03-01 }\nremote-identification: { means: module, serial: X1 }\n',
      'a.aircraft.yaml',
    );
    expect(aircraft).toMatchObject({
      slips: [],
      name: { value: 'bittern-2' },
      kind: { value: 'multirotor' },
      mass: { value: 1.2 },
      endurance: { value: 1500 },
      euClass: { value: 'C1' },
      registration: { number: { value: 'FA0000000X' }, expires: { value: { year: 2028, month: 3, day: 1 } } },
      remoteId: { means: { value: 'module' }, serial: { value: 'X1' } },
    });
  });

  test('its mistakes stand in it', () => {
    const text = 'aircraft: 1\nname: a\nkind: multi-rotor\nmass: 1.2\nwings: 2\n';
    expect(readAircraft(text, 'a').slips.map((slip) => say(text, slip))).toEqual([
      'word-unknown on "multi-rotor" of the aircraft file: kind',
      'number-without-unit on "1.2" of the aircraft file: mass',
      'key-unknown on "wings" of the aircraft file: wings',
    ]);
    expect(readAircraft('', 'a').slips).toMatchObject([{ kind: 'key-missing', key: 'aircraft' }]);
    expect(readAircraft('- a', 'a').slips).toMatchObject([{ kind: 'value-of-wrong-kind' }]);
  });

  test('a settings file is read as written', () => {
    const settings = readSettings(
      'settings: 1\ncountry: US\nlimits:\n  height: { is: 100 m AGL, because: insurance }\n  statement-age: { is: 7 d, because: habit }\noff: [{ rule: plan-reused, because: walled site }]\n',
      's',
    );
    expect(settings).toMatchObject({
      slips: [],
      country: { value: 'US' },
      limits: {
        height: { value: { value: { aboveGround: 100 } }, because: { value: 'insurance' } },
        statementAge: { value: { value: 604_800 } },
      },
      off: [{ rule: { value: 'plan-reused' } }],
    });
  });

  test('a limit that cannot be read is told and left out', () => {
    const text = 'settings: 1\nlimits: { height: { is: 80, because: x }, depth: { is: 3 m } }\n';
    const settings = readSettings(text, 's');
    expect(settings.limits).toEqual({});
    expect(settings.slips.map((slip) => say(text, slip))).toEqual([
      'number-without-unit on "80" of the settings file: limits height is',
      'key-unknown on "depth" of the settings file: limits depth',
    ]);
  });
});

describe('the path at a place', () => {
  const { blocks } = readPlanDocument(SAMPLE_PLAN, 'plan');
  const pathOf = (mark: string, within = 1) => {
    const found = pathAt(blocks, SAMPLE_PLAN.indexOf(mark) + within, 'mission');
    return found && [found.shape, found.path.join('.'), found.item];
  };

  test('names the key or value there, from the document or from the item', () => {
    expect(pathOf('habitat')).toEqual(['mission', 'purpose', undefined]);
    expect(pathOf('402 m')).toEqual(['mission', 'site.take-off.elevation', undefined]);
    expect(pathOf('../world/zones')).toEqual(['mission', 'airspace.0', undefined]);
    expect(pathOf('60 m AGL')).toEqual(['point', 'altitude', 1]);
    expect(pathOf('25 m,')).toEqual(['area', 'inside.circle', 2]);
    expect(pathOf('11 m/s')).toEqual(['area', 'accepts.0.up-to', 2]);
    expect(pathOf('90 m above')).toEqual(['mission', 'lost-link.climb-to', undefined]);
  });
});
