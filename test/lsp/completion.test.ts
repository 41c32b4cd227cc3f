import { expect, test } from 'vitest';
import { complete } from '../../server/src/lsp/completion/complete.ts';
import type { Known } from '../../server/src/lsp/completion/words.ts';
import type { Language } from '../../server/src/lsp/documents.ts';
import { Trees } from '../../server/src/lsp/trees.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import type { Finding } from '../../server/src/rulebook/finding.ts';
import { Lines } from '../../server/src/text/lines.ts';
import { instant } from '../../server/src/units/frames.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { filesBelow, readProject } from '../support/project.ts';
import { planAt } from './lake.ts';

const FILES = memoryFiles({
  '/fleet/wren.aircraft.yaml': 'aircraft: 1\n',
  '/fleet/heron.aircraft.yaml': 'aircraft: 1\n',
  '/world/lake.tif': 'x',
  '/world/zones.geojson': '{}',
  '/world/node_modules/zones.geojson': '{}',
  '/plans/day.mission.yaml': '',
});

const NOW = instant(Date.parse('2030-06-13T12:00:00Z'));

const known = (text: string): Known => ({ plan: readPlan(text, '/plans/day.mission.yaml'), findings: [], now: NOW });

const FOUND: Finding = {
  rule: 'guy-wires-near',
  level: 'caution',
  fingerprint: 'x',
  count: 1,
  sources: [],
  at: { anchor: { document: 'x', at: 0 }, from: 0, to: 0 },
  subject: 'x',
  message: 'x',
};

/** Completion at the mark `¦` of a text. */
const at = async (marked: string, of: Partial<{ known: Known; language: Language; takesSnippets: boolean }> = {}) => {
  const offset = marked.indexOf('¦');
  const text = marked.slice(0, offset) + marked.slice(offset + 1);
  const { language = 'mission' } = of;
  const document = {
    uri: 'memory:/plans/day.mission.yaml',
    location: '/plans/day.mission.yaml',
    language,
    version: 1,
    serial: 1,
    text,
    lines: new Lines(text),
    trees: new Trees(),
  };
  const { items } = await complete(document, offset, of.known ?? known(planAt('60 m AGL')), {
    takesSnippets: of.takesSnippets ?? true,
    takesAsIs: true,
    opensMore: false,
    files: FILES,
    root: async () => '/',
    isGivenUp: () => false,
  });
  return items;
};
const labels = async (...asked: Parameters<typeof at>): Promise<readonly string[]> =>
  (await at(...asked)).map(({ label }) => label);
const textOf = async (label: string, ...asked: Parameters<typeof at>): Promise<string | undefined> => {
  const edit = (await at(...asked)).find((item) => item.label === label)?.textEdit;
  // Blanks as `<1>` and choices as `<1|a,b>`, which read better than a snippet's own signs.
  return edit?.newText.replace(/\$\{(\d+)(\|[^|]*)?\|?\}/g, '<$1$2>');
};

const ROUTE = 'route:\n  - take-off: home\n';

test('keys stand where they can stand, the required ones first, without those that are there already', async () => {
  const items = await labels(`${ROUTE}  - point: reed\n    ¦\n    leg: { speed: 8 m/s over ground }\n  - land: home\n`);
  expect(items.slice(0, 2)).toEqual(['at', 'altitude']);
  expect(items).not.toContain('leg');
  expect(await labels('window: { from: 2030-06-14 06:40 -07:00, ¦ }')).toEqual(['until']);
  expect(await labels('crew:\n  ¦\ntitle: x\n')).toEqual(['pilot', 'observers']);
});

test('a key brings the keys that it requires, with blanks and without values that could be believed', async () => {
  expect(await textOf('window', 'win¦')).toBe('window: { from: <1>, until: <2> }');
  expect(await textOf('altitude', `${ROUTE}  - point: x\n    ¦`)).toBe(
    'altitude: <1> <2|m,ft> <3|AGL,AMSL,above take-off>',
  );
  expect(await textOf('site', '¦')).toBe('site:\n  take-off: { lat: <1>, lon: <2>, elevation: <3> <4|m,km,ft,mi,NM> }');
});

test('a key that is written already is replaced without its value', async () => {
  expect(await textOf('altitude', `${ROUTE}  - point: x\n    alt¦: 60 m AGL`)).toBe('altitude');
});

test('a client without snippets is given the same text without blanks', async () => {
  expect(await textOf('altitude', `${ROUTE}  - point: x\n    ¦`, { takesSnippets: false })).toBe('altitude:  m AGL');
});

test('an item of the route comes whole, under its dash', async () => {
  const written = await textOf('point', `${ROUTE}  - ¦\n  - land: home\n`);
  expect(written).toBe(
    'point: <1>\n    at: <2>\n    altitude: <3> <4|m,ft> <5|AGL,AMSL,above take-off>\n    leg: { speed: <6> <7|m/s,kt,km/h,mph> <8|over ground,through air> }',
  );
  expect(await textOf('land', `${ROUTE}  ¦\n`)).toBe('- land: <1>');
});

test('after a number stand the units, and after a unit the datums', async () => {
  expect((await labels(`${ROUTE}  - point: x\n    altitude: 60¦`)).slice(0, 2)).toEqual(['60 m AGL', '60 ft AGL']);
  expect(await labels(`${ROUTE}  - point: x\n    altitude: 60 m ¦`)).toContain('60 m above take-off');
  expect(await labels(`${ROUTE}  - point: x\n    leg: { speed: 8 ¦ }`)).toContain('8 m/s over ground');
  expect(await labels('weather: { visibility: 10¦ }')).toEqual(['10 m', '10 km', '10 ft', '10 mi', '10 NM']);
});

test('words of the schema, names of the plan and files of the workspace are offered', async () => {
  expect(await labels('lost-link: { after: 5 s, then: ¦ }')).toEqual([
    'fly back and land',
    'land there',
    'hold',
    'carry on',
    'fly to east-bank',
    'fly to home',
  ]);
  expect(await labels(`${ROUTE}  - land: ¦`)).toEqual(['home']);
  expect(await labels('aircraft: ¦')).toEqual(['../fleet/heron.aircraft.yaml', '../fleet/wren.aircraft.yaml']);
  expect(await labels('airspace:\n  - ../w¦')).toEqual(['../world/zones.geojson']);
  expect(await labels('terrain: [¦]')).toEqual(['../world/lake.tif']);
});

test('positions are those of the plan, and in braces they become two keys', async () => {
  const [first] = await at(`${ROUTE}  - point: x\n    at: ¦`);
  expect([first?.label, first?.detail]).toEqual(['47.5, -120.5', 'take-off place']);
  expect(await textOf('47.5, -120.498', 'crew: { pilot: { stands: ¦ } }')).toBe('{ lat: 47.5, lon: -120.498 }');
});

test('acceptances name rules that can be accepted, and those found here come first', async () => {
  const found = { ...known(planAt('60 m AGL')), findings: [FOUND] };
  const rules = await labels('accepts: [{ rule: ¦ }]', { known: found });
  expect(rules[rules.length - 1]).not.toBe(FOUND.rule);
  const item = (await at('accepts: [{ rule: ¦ }]', { known: found })).find(({ label }) => label === FOUND.rule);
  expect(item?.sortText?.startsWith('0')).toBe(true);
  expect(rules).not.toContain('leg-above-height-limit');
});

test('an authorisation is for a zone or for a section that a waiver can lift', async () => {
  expect(await labels('authorisations:\n  - zone: ¦')).toContain('14 CFR 107.51');
  expect(await labels('authorisations:\n  - sections: ¦')).toContain('14 CFR 107.29(a)(2)');
});

test('an unclosed quote or bracket in one item does not spoil the next', async () => {
  for (const open of ['"abc', '[abc', '{ a: [']) {
    expect(await labels(`route:\n  - point: ${open}\n  - point: x\n    altitude: 60 ¦`)).toContain('60 m AGL');
  }
});

test('nothing is offered in a comment, in a block of text, or behind a closed bracket', async () => {
  expect(await labels('title: x # tell¦')).toEqual([]);
  expect(await labels('weather:\n  metar: |\n    KZZU 14¦')).toEqual([]);
  expect(await labels('window: { from: a, until: b } ¦')).toEqual([]);
});

test('aircraft, settings and mapping files are completed from their own schemas', async () => {
  expect(await labels('aircraft: 1\nki¦', { language: 'aircraft' })).toContain('kind');
  expect(await labels('aircraft: 1\nkind: ¦', { language: 'aircraft' })).toContain('multirotor');
  expect(await textOf('height', 'settings: 1\nlimits:\n  ¦', { language: 'settings' })).toContain('is: <1>');
  expect(await labels('settings: 1\noff:\n  - rule: ¦', { language: 'settings' })).toContain('guy-wires-near');
  expect(await labels('mapping: 1\n¦', { language: 'mapping' })).toContain('counts');
});

/** Misspelt on purpose: the sample is there for its faults. */
const MISSPELT: Readonly<Record<string, readonly string[]>> = {
  'samples/missions/many-faults.mission.yaml': [
    '  permision',
    '  permision: { of',
    '  permision: { of: shore owner, given',
  ],
};

const SAMPLES = filesBelow('samples').filter((path) => /\.(?:mission|aircraft|mapping|settings)\.yaml$/.test(path));
const languageIn = (path: string): Language =>
  path.endsWith('mission.yaml')
    ? 'mission'
    : path.endsWith('aircraft.yaml')
      ? 'aircraft'
      : path.endsWith('mapping.yaml')
        ? 'mapping'
        : 'settings';

// A mapping's values are words of its authority, which no schema knows.
test.each(SAMPLES.filter((path) => languageIn(path) !== 'mapping'))(
  'every key of %s is offered where it was typed, with nothing behind it yet',
  async (path) => {
    const text = readProject(path);
    const language = languageIn(path);
    const missed: string[] = [];
    for (const match of text.matchAll(/(?<=[\n{,-] *)([a-z][a-z-]*):(?=\s)/g)) {
      const line = text.slice(text.lastIndexOf('\n', match.index) + 1, match.index);
      // A comment's colon, and a mapping's free values, are no keys.
      if (line.includes('#')) continue;
      const offered = await labels(`${text.slice(0, match.index)}¦`, { language });
      if (!offered.includes(match[1] ?? '')) missed.push(`${line}${match[1]}`);
    }
    expect(missed).toEqual(MISSPELT[path] ?? []);
  },
);

test.each(SAMPLES)('every cut of %s is answered', async (path) => {
  const text = readProject(path);
  const language = languageIn(path);
  for (let cut = 0; cut <= text.length; cut += 3) {
    const items = await at(`${text.slice(0, cut)}¦${cut % 2 === 0 ? '' : text.slice(cut)}`, { language });
    expect(items.every(({ textEdit }) => textEdit !== undefined && 'range' in textEdit)).toBe(true);
  }
});
