import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import type { Hover } from 'vscode-languageserver/node';
import { type LanguageClient, PULLS, startServer } from '../support/language-client.ts';
import { readProject } from '../support/project.ts';
import { makeLake } from './lake.ts';

/** A mapping file is a language of its own, as aircraft and settings files are. */

let lake: ReturnType<typeof makeLake>;
let uri: string;
let client: LanguageClient;

beforeAll(() => {
  lake = makeLake();
  uri = lake.uri('office.mapping.yaml');
});
afterAll(() => lake.remove());
beforeEach(async () => {
  client = startServer();
  await client.initialize(PULLS);
});
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
});

const SAMPLE = readProject('samples/world/lakes-air-office.mapping.yaml');

const hoverAt = async (line: number, character: number): Promise<string> => {
  const hover = await client.connection.sendRequest<Hover | null>('textDocument/hover', {
    textDocument: { uri },
    position: { line, character },
  });
  const contents: unknown = hover?.contents;
  return typeof contents === 'object' && contents !== null && 'value' in contents ? String(contents.value) : '';
};

test('nothing is found in the mapping of the samples', async () => {
  await client.open(uri, SAMPLE, 'waywarden-mapping');
  expect(await client.pull(uri)).toEqual([]);
});

test('a word and a key that are none of ours stand where they are written; a misspelt key is not missing, too', async () => {
  const text = 'mapping: 1\nkind: restrictd\nflor: { property: low }\nceiling: { property: high }\n';
  await client.open(uri, text, 'waywarden-mapping');
  const found = await client.pull(uri);
  const word = found.find(({ code }) => code === 'word-unknown');
  expect(word?.range).toEqual({ start: { line: 1, character: 6 }, end: { line: 1, character: 15 } });
  expect(found.map(({ code }) => code).sort()).toEqual(['key-unknown', 'word-unknown']);
});

test('the file name tells the language where a client does not', async () => {
  await client.open(
    uri,
    'mapping: 1\nkind: restrictd\nfloor: { property: low }\nceiling: { property: high }\n',
    'yaml',
  );
  expect((await client.pull(uri)).map(({ code }) => code)).toEqual(['word-unknown']);
});

test('a field tells what it is, from the schema', async () => {
  const text =
    'mapping: 1\nkind: restricted\nbars: take-off and landing\nfloor: { property: low, unit: ft, datum: AMSL }\nceiling: { property: high }\n';
  await client.open(uri, text, 'waywarden-mapping');
  expect(await hoverAt(2, 1)).toContain('Whether a zone bars take-offs and landings only');
  expect(await hoverAt(3, 25)).toContain('The unit of a number');
  expect(await hoverAt(3, 11)).toContain('The name of the property, as the authority spells it');
});
