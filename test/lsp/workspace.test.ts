import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import {
  CancellationTokenSource,
  type ClientCapabilities,
  type WorkspaceDiagnosticReport,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver/node';
import { type LanguageClient, PULLS, startServer, until } from '../support/language-client.ts';
import { AIRCRAFT, makeLake, planAt } from './lake.ts';

let lake: ReturnType<typeof makeLake>;
let client: LanguageClient;

beforeEach(() => {
  lake = makeLake();
  mkdirSync(lake.path('far'));
  writeFileSync(lake.path('sound.mission.yaml'), planAt('60 m AGL'));
  writeFileSync(lake.path('faulty.mission.yaml'), planAt('60'));
  writeFileSync(lake.path('far/high.mission.yaml'), planAt('130 m AGL'));
});
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
  lake.remove();
});

const WORKSPACE: ClientCapabilities = { ...PULLS, workspace: { ...PULLS.workspace, workspaceFolders: true } };

const begin = async (options: unknown = {}, capabilities = WORKSPACE, folders = ['.']) => {
  client = startServer();
  const result = await client.connection.sendRequest<{
    readonly capabilities: { readonly diagnosticProvider?: object };
  }>('initialize', {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: folders.map((name) => ({ uri: lake.uri(name), name })),
    capabilities,
    initializationOptions: options,
  });
  await client.connection.sendNotification('initialized', {});
  return result.capabilities;
};

const known = new Map<string, string>();

const pull = async (
  token?: CancellationTokenSource['token'],
): Promise<readonly WorkspaceDocumentDiagnosticReport[]> => {
  const params = { previousResultIds: [...known].map(([uri, value]) => ({ uri, value })) };
  const { items } = await (token === undefined
    ? client.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', params)
    : client.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', params, token));
  for (const { uri, resultId } of items) if (resultId !== undefined) known.set(uri, resultId);
  return items;
};

const told = (items: readonly WorkspaceDocumentDiagnosticReport[]): Readonly<Record<string, readonly unknown[]>> =>
  Object.fromEntries(
    items.map((item) => [
      item.uri.slice(lake.uri('.').length),
      item.kind === 'full' ? item.items.map(({ code }) => code) : ['unchanged'],
    ]),
  );

beforeEach(() => known.clear());

const settled = async <T>(work: Promise<T>, ms: number): Promise<T | 'held'> => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const held = new Promise<'held'>((resolve) => {
    timer = setTimeout(() => resolve('held'), ms);
  });
  try {
    return await Promise.race([work, held]);
  } finally {
    clearTimeout(timer);
  }
};

test('plans that are not open are judged, too, and one without findings is not told', async () => {
  const { diagnosticProvider } = await begin();
  expect(diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
  const found = told(await pull());
  expect(Object.keys(found).sort()).toEqual(['/far/high.mission.yaml', '/faulty.mission.yaml']);
  expect(found['/faulty.mission.yaml']).toContain('number-without-unit');
});

test('a second pull is held until something changes, and then tells only what is different', async () => {
  await begin();
  await pull();
  const held = pull();
  expect(await settled(held, 500)).toBe('held');
  writeFileSync(lake.path('faulty.mission.yaml'), planAt('60 m AGL'));
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('faulty.mission.yaml'), type: 2 }],
  });
  expect(told(await held)).toEqual({ '/faulty.mission.yaml': [] });
});

test('an aircraft file that changes has every plan judged again that flies it', async () => {
  await begin();
  await pull();
  const held = pull();
  writeFileSync(lake.path('craft.aircraft.yaml'), AIRCRAFT.replace('2032-03-31', '2020-03-31'));
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('craft.aircraft.yaml'), type: 2 }],
  });
  const found = told(await held);
  expect(found['/sound.mission.yaml']).toEqual(['registration-lapsed']);
});

test('a plan that is deleted is shown no longer, and one that is opened is left to its own pulls', async () => {
  await begin();
  await pull();
  let held = pull();
  rmSync(lake.path('faulty.mission.yaml'));
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('faulty.mission.yaml'), type: 3 }],
  });
  expect(told(await held)).toEqual({ '/faulty.mission.yaml': [] });
  known.delete(lake.uri('faulty.mission.yaml'));
  await client.open(lake.uri('far/high.mission.yaml'), planAt('60 m AGL'));
  held = pull();
  expect(await settled(held, 700)).toBe('held');
  await client.close(lake.uri('far/high.mission.yaml'));
  writeFileSync(lake.path('far/high.mission.yaml'), planAt('60'));
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('far/high.mission.yaml'), type: 2 }],
  });
  expect((await until(async () => told(await held)))['/far/high.mission.yaml']).toContain('number-without-unit');
});

test('several roots are judged, and a folder that is added or removed later counts', async () => {
  await begin({}, WORKSPACE, ['far']);
  expect(Object.keys(told(await pull()))).toEqual(['/far/high.mission.yaml']);
  const held = pull();
  await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
    event: { added: [{ uri: lake.uri('.'), name: 'all' }], removed: [] },
  });
  expect(Object.keys(told(await held))).toEqual(['/faulty.mission.yaml']);
});

test('a pull that is cancelled while it is held ends, and the next one works', async () => {
  await begin();
  await pull();
  const cancel = new CancellationTokenSource();
  const held = pull(cancel.token);
  cancel.cancel();
  await expect(held).rejects.toMatchObject({ code: -32800 });
  known.clear();
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('faulty.mission.yaml'), type: 2 }],
  });
  expect(Object.keys(told(await pull())).length).toBe(2);
});

test('parts of the answer come as they are found, where the client takes them, and a longer work shows how far it is', async () => {
  for (let i = 0; i < 12; i++) writeFileSync(lake.path(`many-${i}.mission.yaml`), planAt('60'));
  const progress: string[] = [];
  await begin({}, { ...WORKSPACE, window: { workDoneProgress: true } });
  client.connection.onRequest('window/workDoneProgress/create', () => null);
  const parts: WorkspaceDocumentDiagnosticReport[] = [];
  client.connection.onNotification(
    '$/progress',
    ({ token, value }: { readonly token: unknown; readonly value: Record<string, unknown> }) => {
      if (token === 'parts') parts.push(...(value['items'] as WorkspaceDocumentDiagnosticReport[]));
      else progress.push(String(value['kind']));
    },
  );
  const { items } = await client.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', {
    previousResultIds: [],
    partialResultToken: 'parts',
  });
  expect(items).toEqual([]);
  await until(() => parts.length === 14);
  expect(progress[0]).toBe('begin');
  await until(() => progress.at(-1) === 'end');
});

test('a person can have it off', async () => {
  const { diagnosticProvider } = await begin({ allPlans: false });
  expect(diagnosticProvider).toMatchObject({ workspaceDiagnostics: false });
});
