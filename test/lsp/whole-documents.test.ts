import { expect, test } from 'vitest';
import { complete } from '../../server/src/lsp/completion/complete.ts';
import type { Language } from '../../server/src/lsp/documents.ts';
import { Trees } from '../../server/src/lsp/trees.ts';
import { ITEM_SHAPES } from '../../server/src/plan/describe.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { readAircraft } from '../../server/src/plan/read-aircraft.ts';
import { readSettings } from '../../server/src/plan/read-settings.ts';
import { Lines } from '../../server/src/text/lines.ts';
import { instant } from '../../server/src/units/frames.ts';
import { memoryFiles } from '../support/memory-files.ts';

/** What a pilot fills into a blank, by the key before it; a number where nothing else is said. */
const FILLED: ReadonlyMap<string, string> = new Map([
  ['title', 'Reed bed'],
  ['purpose', 'survey for a client'],
  ['country', 'US'],
  ['from', '2030-06-14 06:40 -07:00'],
  ['until', '2030-06-14 07:10 -07:00'],
  ['aircraft', 'craft.aircraft.yaml'],
  ['stands', 'take-off'],
  ['held', 'remote pilot'],
  ['tested', '2029-11-03'],
  ['terrain', 'N47W121.hgt'],
  ['airspace', 'zones.geojson'],
  ['seen', '2030-06-12'],
  ['by', 'pilot'],
  ['at', '47.5032, -120.4801'],
  ['around', '47.5032, -120.4801'],
  ['along', ''],
  ['lat', '47.5032'],
  ['lon', '-120.4801'],
  ['then', 'hold'],
  ['name', 'bittern'],
  ['serial', 'WAYW8BT000002'],
  ['number', 'FA3BITT2RN'],
  ['expires', '2032-03-31'],
  ['cruise', '160 W at 10 m/s'],
  ['kind', 'multirotor'],
  ['means', 'standard'],
  ['code', 'KZZU'],
]);

/** The first of a list of positions, and a second line for a list that wants two. */
const corners = (text: string): string =>
  text.replace(/along:\n( +)- [^\n]*/, 'along:\n$1- 47.5032, -120.4801\n$1- 47.5039, -120.4788');

/** A suggestion as it stands when every blank has been filled and each choice left at its first word. */
const filled = (snippet: string): string => {
  const text = snippet.replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1');
  return corners(
    text.replace(/\$\{\d+\}/g, (_blank, at: number, whole: string) => {
      const before = whole.slice(0, at);
      const key = /([a-z-]+):[ \n[-]*$/.exec(before)?.[1] ?? '';
      const unit = /^ [A-Za-z%]/.test(whole.slice(at).replace(/^\$\{\d+\}/, ''));
      if (unit) return '10';
      return FILLED.get(key) ?? (ITEM_SHAPES.some((shape) => shape === key) ? `${key}-1` : '10');
    }),
  );
};

const suggested = async (marked: string, label: string, language: Language = 'mission'): Promise<string> => {
  const offset = marked.indexOf('¦');
  const text = marked.replace('¦', '');
  const document = {
    uri: 'memory:/a',
    location: '/a',
    language,
    version: 1,
    serial: 1,
    text,
    lines: new Lines(text),
    trees: new Trees(),
  };
  const { items } = await complete(
    document,
    offset,
    { findings: [], now: instant(0) },
    {
      takesSnippets: true,
      takesAsIs: true,
      opensMore: false,
      files: memoryFiles({}),
      root: async () => '/',
      isGivenUp: () => false,
    },
  );
  const edit = items.find((item) => item.label === label)?.textEdit;
  if (edit === undefined) throw new Error(`"${label}" is not suggested`);
  return marked.replace('¦', () => edit.newText);
};

test('a whole plan is suggested in an empty file, and reads without a slip when its blanks are filled', async () => {
  const text = filled(await suggested('¦', 'a whole plan')).replace('  - 10\n', '');
  const plan = readPlan(text, 'plan');
  expect(plan.slips).toEqual([]);
  expect(plan.items.map(({ kind }) => kind)).toEqual(['take-off', 'land']);
  // Nothing is filled in that a person has to know: what stands there are words and units of the language.
  expect((await suggested('¦', 'a whole plan')).replace(/\$\{\d+\|[^}]*\}/g, '')).not.toMatch(/: [^{]*\d{2}/);
});

test('a whole aircraft file and a whole settings file are suggested, too', async () => {
  expect(readAircraft(filled(await suggested('¦', 'a whole aircraft file', 'aircraft')), 'craft').slips).toEqual([]);
  expect(readSettings(filled(await suggested('¦', 'a whole settings file', 'settings')), 'house').slips).toEqual([]);
});

test.each(ITEM_SHAPES)('%s as a route item reads without a slip when its blanks are filled', async (shape) => {
  const head = 'mission: 1\ntitle: x\npurpose: y\nroute:\n';
  const text = filled(await suggested(`${head}  - ¦\n`, shape));
  const plan = readPlan(text, 'plan');
  expect(plan.slips.map((slip) => ({ ...slip, span: 0 }))).toEqual([]);
  expect(plan.items.map(({ kind }) => kind)).toEqual([shape]);
});
