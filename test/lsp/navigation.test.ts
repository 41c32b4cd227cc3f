import { mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type {
  DocumentHighlight,
  DocumentLink,
  FoldingRange,
  Location,
  SelectionRange,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver/node';
import { changed } from '../../server/src/lsp/documents.ts';
import { type LanguageClient, PULLS, startServer } from '../support/language-client.ts';
import { filesBelow, readProject } from '../support/project.ts';
import { makeLake, planAt } from './lake.ts';

const ZONES = `{
  "type": "FeatureCollection", "edition": "made up", "retrieved": "2030-06-12T08:00:00Z", "covers": [-121, 47, -120, 48],
  "features": [{ "type": "Feature",
    "properties": { "id": "ctr-lake", "name": "Lake tower", "kind": "controlled", "class": "D", "floor": "surface", "ceiling": "3000 ft AMSL" },
    "geometry": { "type": "Polygon", "coordinates": [[[-120.9, 47.1], [-120.8, 47.1], [-120.8, 47.2], [-120.9, 47.1]]] } }]
}`;

const LEAVE = 'authorisations: [{ number: A-1, zone: ctr-lake }]\n';
const TEXT = planAt('60 m AGL')
  .replace('route:', `${LEAVE}route:`)
  .replace('airspace: [zones.geojson]', 'airspace: [world/zones.geojson]');
const FAR = TEXT.replaceAll('world/', '../world/').replace('Reed-bed', 'Other');

const OPENS_PAGES = {
  ...PULLS,
  textDocument: { ...PULLS.textDocument, rename: { prepareSupport: true } },
  workspace: { ...PULLS.workspace, textDocumentContent: {} },
};

let lake: ReturnType<typeof makeLake>;
let uri: string;
let client: LanguageClient;

beforeAll(() => {
  lake = makeLake();
  uri = lake.uri('survey.mission.yaml');
  writeFileSync(lake.path('waywarden.settings.yaml'), 'settings: 1\n');
  mkdirSync(lake.path('world'));
  mkdirSync(lake.path('far'));
  writeFileSync(lake.path('world/zones.geojson'), ZONES);
  writeFileSync(lake.path('far/other.mission.yaml'), FAR);
  writeFileSync(lake.path('far/stranger.mission.yaml'), FAR.replace('../world/zones.geojson', 'zones.geojson'));
});
afterAll(() => lake.remove());
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
});

const begin = async (text = TEXT, languageId = 'waywarden-mission', at = uri): Promise<void> => {
  client = startServer();
  await client.initialize(OPENS_PAGES);
  await client.open(at, text, languageId);
};

/** Line and character of the `nth` place of a piece of text, a little inside it. */
const placeOf = (text: string, piece: string, nth = 1, inside = 1) => {
  let at = -1;
  for (let i = 0; i < nth; i++) at = text.indexOf(piece, at + 1);
  const lines = text.slice(0, at + inside).split('\n');
  return { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
};

const ask = <T>(method: string, params: object): Promise<T> =>
  client.connection.sendRequest(`textDocument/${method}`, { textDocument: { uri }, ...params });

/** The text between two places. */
const cut = (text: string, { start, end }: Location['range']): string => {
  const lines = text.split('\n');
  return start.line === end.line
    ? (lines[start.line] ?? '').slice(start.character, end.character)
    : lines.slice(start.line, end.line + 1).join('\n');
};

test('the lists, groups and items of a plan fold, also where the text is half typed', async () => {
  await begin(TEXT.replace('altitude: 60 m AGL', 'altitude: "60'));
  const folds = await ask<readonly FoldingRange[]>('foldingRange', {});
  const lines = TEXT.split('\n');
  expect(folds.map(({ startLine }) => lines[startLine]?.trim())).toEqual(['crew:', 'route:', '- point: east-bank']);
});

test('a selection widens from a word to its value, its entry, its item and the whole plan', async () => {
  await begin();
  const [selection] = await ask<readonly SelectionRange[]>('selectionRange', {
    positions: [placeOf(TEXT, 'over ground')],
  });
  const widening: string[] = [];
  for (let at: SelectionRange | undefined = selection; at !== undefined; at = at.parent)
    widening.push(cut(TEXT, at.range));
  expect(widening.slice(0, 4)).toEqual([
    'over',
    '8 m/s over ground',
    'speed: 8 m/s over ground',
    '{ speed: 8 m/s over ground }',
  ]);
  expect(widening.at(-1)).toContain('mission: 1');
});

test('references to files are links that stay inside the root, and lead to the file', async () => {
  await begin(TEXT.replace('terrain: N47', 'terrain: ../../../N47'));
  const links = await ask<readonly DocumentLink[]>('documentLink', {});
  expect(links.map(({ target }) => target)).toEqual([lake.uri('craft.aircraft.yaml'), lake.uri('world/zones.geojson')]);
  const definition = await ask<Location>('definition', { position: placeOf(TEXT, 'craft.aircraft') });
  expect(definition.uri).toBe(lake.uri('craft.aircraft.yaml'));
});

test('a zone leads to its feature, and everything that names it is found across the plans that use its file', async () => {
  await begin();
  const position = placeOf(TEXT, 'ctr-lake');
  const [declared, ...more] = await ask<readonly Location[]>('definition', { position });
  expect(more).toEqual([]);
  expect(declared?.uri).toBe(lake.uri('world/zones.geojson'));
  expect(cut(ZONES, declared?.range ?? { start: position, end: position })).toBe('"ctr-lake"');
  const uses = await ask<readonly Location[]>('references', { position, context: { includeDeclaration: false } });
  expect(uses.map((use) => use.uri)).toEqual([uri, lake.uri('far/other.mission.yaml')]);
});

test('renaming a zone changes its file and the plans that use that file, and no other', async () => {
  await begin();
  const edit = await ask<WorkspaceEdit>('rename', { position: placeOf(TEXT, 'ctr-lake'), newName: 'lake: east' });
  const written = new Map(
    (edit.documentChanges ?? []).flatMap((change) =>
      'edits' in change
        ? [[change.textDocument.uri, change.edits.map((each) => ('newText' in each ? each.newText : ''))]]
        : [],
    ),
  );
  expect(Object.fromEntries(written)).toEqual({
    [uri]: ['"lake: east"'],
    [lake.uri('world/zones.geojson')]: ['"lake: east"'],
    [lake.uri('far/other.mission.yaml')]: ['"lake: east"'],
  });
});

test('renaming a take-off place renames its landing, and highlights show both', async () => {
  await begin();
  const position = placeOf(TEXT, 'home');
  expect(await ask('prepareRename', { position })).toMatchObject({ placeholder: 'home' });
  const edit = await ask<WorkspaceEdit>('rename', { position, newName: 'jetty' });
  const [change] = edit.documentChanges ?? [];
  const edits = change !== undefined && 'edits' in change ? change.edits : [];
  const texts = edits.flatMap((each) => ('newText' in each ? [{ range: each.range, text: each.newText }] : []));
  expect(changed(TEXT, texts.toReversed())).toBe(TEXT.replaceAll(': home', ': jetty'));
  const marks = await ask<readonly DocumentHighlight[]>('documentHighlight', { position });
  expect(marks.map(({ kind }) => kind)).toEqual([3, 2]);
});

test('a name that is taken, empty or of a rule is refused with the reason', async () => {
  const text = TEXT.replace('  - land', '  - point: west\n    at: 47.5, -120.499\n    altitude: 60 m AGL\n  - land');
  await begin(text);
  const position = placeOf(text, 'east-bank');
  await expect(ask('rename', { position, newName: 'west' })).rejects.toThrow('"west" is the name of something else');
  await expect(ask('rename', { position, newName: ' ' })).rejects.toThrow('cannot be empty');
  expect(await ask('prepareRename', { position: placeOf(text, 'altitude') })).toBe(null);
});

test('the name of a rule leads to its teaching page, which this program writes itself', async () => {
  const text = TEXT.replace('route:', 'accepts: [{ rule: guy-wires-near, because: short }]\nroute:');
  await begin(text);
  const page = await ask<Location>('definition', { position: placeOf(text, 'guy-wires') });
  expect(page.uri).toBe('waywarden-rule:/guy-wires-near.md');
  const { text: told } = await client.connection.sendRequest<{ readonly text: string }>(
    'workspace/textDocumentContent',
    { uri: page.uri },
  );
  expect(told).toContain('# guy-wires-near');
  expect(told).toContain('**Condition.**');
  const [first] = await client.pull(uri);
  expect(first?.codeDescription?.href).toBe(`waywarden-rule:/${first?.code}.md`);
  expect(await client.connection.sendRequest('workspace/textDocumentContent', { uri: 'waywarden-rule:/../x.md' })).toBe(
    null,
  );
});

const formatted = async (): Promise<readonly TextEdit[]> =>
  ask('formatting', { options: { tabSize: 2, insertSpaces: true } });
const after = (text: string, edits: readonly TextEdit[]): string =>
  changed(text, edits.map(({ range, newText }) => ({ range, text: newText })).toReversed());

test('formatting changes white space only and keeps comments, quotes and order', async () => {
  const untidy = `${TEXT.replace('title: Reed', 'title:   Reed')
    .replace('{ speed: 8 m/s over ground }', '{speed:   8 m/s over ground  } # slow  \t')
    .replace('[world/zones.geojson]', '[ world/zones.geojson ]')
    .replace('purpose: survey for a client', 'purpose: "survey   for {a,b}  "  ')}\n  \n\n`;
  await begin(untidy);
  const tidy = after(untidy, await formatted());
  expect(tidy).toBe(
    TEXT.replace('purpose: survey for a client', 'purpose: "survey   for {a,b}  "').replace(
      'over ground }',
      'over ground } # slow',
    ),
  );
});

test('a text whose white space means something, or that cannot be read, is left as it is', async () => {
  const text = `${TEXT}weather-note: |\n    two  \n\n\n`;
  await begin(text);
  expect(after(text, await formatted()).startsWith(text.trimEnd())).toBe(true);
  await client.change(uri, '\u0000\u0001\u0002', 2);
  expect(await formatted()).toEqual([]);
});

test.each(filesBelow('samples').filter((path) => /\.ya?ml$/.test(path)))('%s is tidy already', async (path) => {
  const language = /\.(mission|aircraft|mapping|settings)\./.exec(path)?.[1] ?? 'mission';
  const text = readProject(path);
  await begin(text, `waywarden-${language}`);
  expect(after(text, await formatted())).toBe(text);
});
