import { existsSync, readFileSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { afterEach, expect, test } from 'vitest';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createProtocolConnection,
  type DataCallback,
  type Disposable,
  type Message,
} from 'vscode-languageserver/node';
import type { Files } from '../../server/src/world/files.ts';
import { LanguageClient, PULLS } from '../support/language-client.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { inProject } from '../support/project.ts';
import { AIRCRAFT, HGT_NAME, levelGround, planAt, ZONES } from './lake.ts';

class FromWorker extends AbstractMessageReader {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  listen(callback: DataCallback): Disposable {
    this.#worker.on('message', (message: Message) => callback(message));
    return { dispose: () => {} };
  }
}

class ToWorker extends AbstractMessageWriter {
  readonly #worker: Worker;
  constructor(worker: Worker) {
    super();
    this.#worker = worker;
  }
  async write(message: Message): Promise<void> {
    this.#worker.postMessage(message);
  }
  end(): void {}
}

/** What a browser's worker has and no more: the bundle must not find anything of Node. */
const AS_IN_A_BROWSER = `{
  const { parentPort } = require('node:worker_threads');
  globalThis.self = globalThis;
  globalThis.postMessage = (message) => parentPort.postMessage(message);
  globalThis.addEventListener = () => {};
  parentPort.on('message', (data) => globalThis.onmessage?.({ data }));
}
for (const name of ['process', 'Buffer', 'setImmediate']) delete globalThis[name];
((require, module, exports) => {`;

const startWorker = (): { readonly client: LanguageClient; readonly worker: Worker } => {
  const program = inProject('dist/server/worker-main.js');
  if (!existsSync(program)) throw new Error(`${program} is missing: run "npm run build" first`);
  const worker = new Worker(`${AS_IN_A_BROWSER}\n${readFileSync(program, 'utf8')}\n})();`, { eval: true });
  const connection = createProtocolConnection(new FromWorker(worker), new ToWorker(worker));
  // A worker that breaks answers nothing; whoever waits for it is told.
  worker.on('error', () => connection.dispose());
  return { worker, client: new LanguageClient(connection, async () => {}) };
};

/** Answers requests for files as the client of the extension does; addresses are those of a virtual file system. */
const answerFiles = (client: LanguageClient, files: Files, asked: string[]): void => {
  const path = ({ uri }: { readonly uri: string }): string => {
    asked.push(uri);
    return new URL(uri.replace(/^[a-z]+:/, 'file:')).pathname;
  };
  client.connection.onRequest('waywarden/readFile', async (at: { readonly uri: string }) => ({
    bytes: await files.read(path(at)),
  }));
  client.connection.onRequest('waywarden/stat', async (at: { readonly uri: string }) => {
    const found = await files.stat(path(at));
    return found === undefined ? null : { kind: found.kind, size: found.size, modified: 1_800_000_000_000 };
  });
  client.connection.onRequest('waywarden/list', async (at: { readonly uri: string }) => ({
    names: await files.list(path(at)),
  }));
};

let running: Worker | undefined;
afterEach(async () => {
  await running?.terminate();
});

const URI = 'memfs:/lake/plans/survey.mission.yaml';

const begin = async (contents: Readonly<Record<string, string | Uint8Array>>, options: unknown = { files: true }) => {
  const { client, worker } = startWorker();
  running = worker;
  const asked: string[] = [];
  answerFiles(client, memoryFiles(contents), asked);
  await client.initialize(PULLS, options);
  return { client, asked };
};

test('the browser’s server judges a plan from files that the client opens', async () => {
  const { client, asked } = await begin({
    '/lake/plans/craft.aircraft.yaml': AIRCRAFT,
    '/lake/plans/zones.geojson': ZONES,
    [`/lake/plans/${HGT_NAME}`]: levelGround(),
  });
  await client.open(URI, planAt('60 m AGL'));
  expect(await client.pull(URI)).toEqual([]);
  expect(asked.every((uri) => uri.startsWith('memfs:///lake') || uri.startsWith('memfs:///'))).toBe(true);
  await client.change(URI, planAt('130 m AGL'), 2);
  expect((await client.pull(URI)).map(({ code }) => code)).toContain('point-above-height-limit');
  expect(client.logged).toEqual([]);
});

test('a file that is missing there is a finding', async () => {
  const { client } = await begin({ '/lake/plans/zones.geojson': ZONES, [`/lake/plans/${HGT_NAME}`]: levelGround() });
  await client.open(URI, planAt('60 m AGL'));
  const found = await client.pull(URI);
  expect(found.find(({ code }) => code === 'reference-unreadable')?.message).toContain('craft.aircraft.yaml');
});

test('a reference that leads out of the plan’s folder is refused before anything is asked of the client', async () => {
  const { client, asked } = await begin({ '/secret.aircraft.yaml': AIRCRAFT });
  await client.open(URI, planAt('60 m AGL').replace('craft.aircraft.yaml', '../../secret.aircraft.yaml'));
  expect((await client.pull(URI)).map(({ message }) => message).join('\n')).toContain('leads out');
  expect(asked.filter((uri) => uri.includes('secret'))).toEqual([]);
});

test('a client that opens no files gets gaps, not silence', async () => {
  const { client } = await begin({}, {});
  await client.open(URI, planAt('60 m AGL'));
  expect((await client.pull(URI)).map(({ message }) => message).join('\n')).toContain('cannot be reached');
});
