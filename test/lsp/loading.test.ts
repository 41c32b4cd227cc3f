import { PassThrough } from 'node:stream';
import { expect, test } from 'vitest';
import {
  CancellationTokenSource,
  createConnection,
  createProtocolConnection,
  type Diagnostic,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { findRoot } from '../../server/src/host/find-root.ts';
import { worldCache } from '../../server/src/host/load-world.ts';
import { prepare } from '../../server/src/host/prepare.ts';
import type { Machine } from '../../server/src/lsp/machine.ts';
import { noFiles } from '../../server/src/lsp/request-files.ts';
import { start } from '../../server/src/lsp/server.ts';
import { instant } from '../../server/src/units/frames.ts';
import type { Files } from '../../server/src/world/files.ts';
import { LanguageClient, PULLS, until } from '../support/language-client.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { AIRCRAFT, HGT_NAME, levelGround, planAt, ZONES } from './lake.ts';

const URI = 'memory:/plans/survey.mission.yaml';

/** A gate that loading waits at. */
const gate = (): { readonly opened: Promise<void>; readonly open: () => void } => {
  let open = (): void => {};
  const opened = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { opened, open };
};

const lakeFiles = (): Files =>
  memoryFiles({
    '/plans/craft.aircraft.yaml': AIRCRAFT,
    '/plans/zones.geojson': ZONES,
    [`/plans/${HGT_NAME}`]: levelGround(),
  });

/** A server in this process, whose loading waits for `loaded` before each text. */
const serve = async (loaded: () => Promise<void>, over: Partial<Machine> = {}): Promise<LanguageClient> => {
  const cache = worldCache();
  const machine: Machine = {
    version: 'test',
    dataFolders: [],
    now: () => instant(Date.now()),
    locationOf: (uri) => uri.replace(/^memory:/, ''),
    uriOf: (location) => `memory:${location}`,
    files: lakeFiles,
    rootOf: findRoot,
    prepare: async (text, location, files, grants, now) => {
      await loaded();
      return prepare(text, location, { files, cache, ...grants }, now);
    },
    ...over,
  };
  const [there, back] = [new PassThrough(), new PassThrough()];
  start(createConnection(there, back), machine);
  const connection = createProtocolConnection(new StreamMessageReader(back), new StreamMessageWriter(there));
  const client = new LanguageClient(connection, async () => {});
  await client.initialize(PULLS);
  return client;
};

const messages = (diagnostics: readonly Diagnostic[]): string => diagnostics.map(({ message }) => message).join('\n');

test('while the world is still loading a pull says so, and a refresh follows when it is there', async () => {
  const world = gate();
  const client = await serve(() => world.opened);
  await client.open(URI, planAt('130 m AGL'));
  expect(messages(await client.pullOnce(URI))).toBe('not assessed yet: the review of this text is still under way');
  expect(client.refreshes).toBe(0);
  world.open();
  await until(() => client.refreshes > 0);
  expect(messages(await client.pull(URI))).toContain('130 m above ground');
});

test('while a new text waits for the world a pull shows what was found before, and says that it waits', async () => {
  let world: Promise<void> = Promise.resolve();
  const client = await serve(() => world);
  await client.open(URI, planAt('130 m AGL'));
  expect(messages(await client.pull(URI))).toContain('130 m above ground');
  const next = gate();
  world = next.opened;
  await client.change(URI, planAt('60 m AGL'), 2);
  const meanwhile = messages(await client.pullOnce(URI));
  expect(meanwhile).toContain('130 m above ground');
  expect(meanwhile).toContain('still under way');
  next.open();
  await until(() => client.refreshes > 0);
  expect(await client.pull(URI)).toEqual([]);
});

test('a pull that is cancelled long before its end fails as the protocol has it', async () => {
  const world = gate();
  const client = await serve(() => world.opened);
  await client.open(URI, planAt('60 m AGL'));
  const cancel = new CancellationTokenSource();
  const pull = client.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri: URI } }, cancel.token);
  cancel.cancel();
  await expect(pull).rejects.toMatchObject({ code: -32800 });
  world.open();
  expect(await client.pull(URI)).toEqual([]);
});

test('a document closed while its world loads gets no findings', async () => {
  const world = gate();
  const client = await serve(() => world.opened);
  await client.open(URI, planAt('130 m AGL'));
  const pull = client.pull(URI);
  await client.close(URI);
  world.open();
  await pull;
  expect(await client.pull(URI)).toEqual([]);
});

test('a failure of this program is told on the document, never shown as nothing found', async () => {
  const client = await serve(async () => {
    throw new Error('a wheel came off');
  });
  await client.open(URI, planAt('60 m AGL'));
  const [fault, ...more] = await client.pull(URI);
  expect(more).toEqual([]);
  expect(fault?.severity).toBe(1);
  expect(fault?.message).toContain('nothing was assessed');
  expect(fault?.message).toContain('a wheel came off');
  const hover = await client.connection.sendRequest('textDocument/hover', {
    textDocument: { uri: URI },
    position: { line: 0, character: 2 },
  });
  expect(hover).toMatchObject({ contents: { kind: 'markdown' } });
});

test('where nothing can be reached each missing source is a finding or a gap', async () => {
  const client = await serve(async () => {}, { files: () => noFiles });
  await client.open(URI, planAt('60 m AGL'));
  const said = messages(await client.pull(URI));
  for (const name of ['craft.aircraft.yaml', 'zones.geojson', HGT_NAME]) expect(said).toContain(name);
});

test('no more than 1,000 are shown, worst first, and the last one counts the rest', async () => {
  const client = await serve(async () => {});
  const points = Array.from(
    { length: 1200 },
    (_, i) => `  - point: p${i}\n    at: 47.5, -120.${4000 + i}\n    altitude: 60\n`,
  ).join('');
  await client.open(URI, planAt('60 m AGL').replace('  - land: home\n', `${points}  - land: home\n`));
  const shown = await client.pull(URI);
  expect(shown).toHaveLength(1000);
  expect(shown.at(-1)?.message).toMatch(/^\d+ more are not shown here/);
  const severities = shown.slice(0, -1).map(({ severity }) => severity ?? 4);
  expect(severities).toEqual(severities.toSorted((one, other) => one - other));
});
