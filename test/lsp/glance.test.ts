import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import type { ClientCapabilities, CodeLens, InlayHint } from 'vscode-languageserver/node';
import { type LanguageClient, PULLS, startServer, until } from '../support/language-client.ts';
import { makeLake, planAt } from './lake.ts';

let lake: ReturnType<typeof makeLake>;
let uri: string;
let client: LanguageClient;
let hintSettings: unknown = {};
let refreshed: string[] = [];
const told: unknown[] = [];

beforeAll(() => {
  lake = makeLake();
  uri = lake.uri('survey.mission.yaml');
});
afterAll(() => lake.remove());
afterEach(async () => {
  await client.end();
  expect(client.logged).toEqual([]);
});

const SEES: ClientCapabilities = {
  ...PULLS,
  workspace: {
    ...PULLS.workspace,
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    inlayHint: { refreshSupport: true },
    codeLens: { refreshSupport: true },
  },
};

const begin = async (text: string, options: unknown = { status: true }): Promise<void> => {
  refreshed = [];
  told.length = 0;
  client = startServer();
  client.connection.onRequest('workspace/configuration', () => [hintSettings]);
  for (const method of ['workspace/inlayHint/refresh', 'workspace/codeLens/refresh'])
    client.connection.onRequest(method, () => {
      refreshed.push(method);
      return null;
    });
  client.connection.onNotification('waywarden/status', (status: unknown) => {
    told.push(status);
  });
  await client.initialize(SEES, options);
  await client.open(uri, text);
};

const hints = async (lines: readonly [number, number] = [0, 99]): Promise<readonly string[]> => {
  const found = await client.connection.sendRequest<readonly InlayHint[]>('textDocument/inlayHint', {
    textDocument: { uri },
    range: { start: { line: lines[0], character: 0 }, end: { line: lines[1], character: 0 } },
  });
  return found.map(({ label }) => String(label));
};

const lenses = async (): Promise<readonly string[]> => {
  const found = await client.connection.sendRequest<readonly CodeLens[]>('textDocument/codeLens', {
    textDocument: { uri },
  });
  return found.map(({ command }) => command?.title ?? '');
};

test('hints tell at each item the leg, its height above the ground, the time of arrival and the energy left', async () => {
  hintSettings = {};
  await begin(planAt('460 m AMSL'));
  // 0.002 degrees of longitude at 47.5 N are 150.7 m; the ground lies at 400 m.
  const found = await hints();
  expect(found.slice(0, 4).map((label) => label.replace(/\d\d:\d\d/g, 'HH:MM').replace(/\d+ %/, 'N %'))).toEqual([
    '151 m',
    'HH:MM–HH:MM',
    'N % left',
    'leg 60 m AGL',
  ]);
});

test('each hint has a setting of its own, and a change of it is shown at once', async () => {
  hintSettings = { legLength: false, arrival: false, energyLeft: false };
  await begin(planAt('60 m AGL'));
  expect(await hints()).toEqual(['leg 60 m AGL', 'leg 60 m AGL']);
  hintSettings = { heightAboveGround: false, arrival: false, energyLeft: false };
  await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
  await until(() => refreshed.length > 1);
  expect(await hints()).toEqual(['151 m', '151 m']);
});

test('only what the range shows has hints, and what is lacking leaves one out rather than guessing', async () => {
  hintSettings = { arrival: false, energyLeft: false };
  await begin(planAt('60 m AGL').replace('terrain: N47W121.hgt\n', ''));
  expect(await hints([0, 3])).toEqual([]);
  expect(await hints()).toEqual(['151 m', '151 m']);
});

test('above the title stand the worst level, duration, greatest height, farthest place and tightest margins', async () => {
  await begin(planAt('60 m AGL'));
  const [standing, duration, highest, farthest, tightest] = await lenses();
  expect(standing).toMatch(/^nothing found in \d+ checks; 0 not assessed$/);
  expect(duration).toMatch(/^in the air [\d.]+ to [\d.]+ min$/);
  expect(highest).toBe('highest 60 m above ground');
  expect(farthest).toMatch(/^farthest from the pilot 16[0-9] m$/);
  expect(tightest).toMatch(/^tightest: .*, [\d.]+ of [\d.]+ .*/);
  await client.change(uri, planAt('130 m AGL'), 2);
  expect((await lenses())[0]).toMatch(/^stop: \d stop/);
});

test('what could not be worked out is called not assessed, never left out', async () => {
  await begin(planAt('60 m AGL').replace('terrain: N47W121.hgt\n', ''));
  const [standing, , highest] = await lenses();
  expect(standing).toMatch(/; [1-9]\d* not assessed/);
  expect(highest).toBe('highest not assessed');
});

test('a client that shows the standing of each plan is told it after each judgement, one that does not is not', async () => {
  await begin(planAt('130 m AGL'));
  await client.pull(uri);
  expect(await until(() => told.at(-1))).toMatchObject({ uri, worst: 'stop', complete: true });
  await client.change(uri, planAt('60 m AGL'), 2);
  await client.pull(uri);
  await until(() => JSON.stringify(told.at(-1)).includes('nothing found'));
  await client.end();
  await begin(planAt('60 m AGL'), {});
  await client.pull(uri);
  await hints();
  expect(told).toEqual([]);
});

test('a world file that changes has the client ask again for hints and totals', async () => {
  await begin(planAt('60 m AGL'));
  await client.pull(uri);
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: lake.uri('zones.geojson'), type: 2 }],
  });
  await until(
    () => refreshed.includes('workspace/codeLens/refresh') && refreshed.includes('workspace/inlayHint/refresh'),
  );
});

test('a document at which an earlier server ended is left alone until its text changes', async () => {
  await begin(planAt('130 m AGL'), { suspects: [uri] });
  const [only, ...more] = await client.pull(uri);
  expect(more).toEqual([]);
  expect(only?.message).toContain('it ended while it judged this text');
  expect(await hints()).toEqual([]);
  await client.change(uri, planAt('60'), 2);
  expect((await client.pull(uri)).map(({ code }) => code)).toContain('number-without-unit');
});

test('a client learns at which documents the server is at work', async () => {
  client = startServer();
  const work: unknown[] = [];
  client.connection.onNotification('waywarden/judging', (told: unknown) => {
    work.push(told);
  });
  await client.initialize(SEES, { status: true });
  await client.open(uri, planAt('60 m AGL'));
  await client.pull(uri);
  expect(work).toEqual([
    { uri, ended: false },
    { uri, ended: true },
  ]);
});
