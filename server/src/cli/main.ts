#!/usr/bin/env node
import { isMainThread } from 'node:worker_threads';
import { changesSince } from '../host/changed-since.ts';
import { clockNow } from '../host/clock.ts';
import { diskFiles } from '../host/disk.ts';
import { worldCache } from '../host/load-world.ts';
import { type Host, prepare } from '../host/prepare.ts';
import { decodeText } from '../host/text-file.ts';
import { openVersions } from '../host/versions.ts';
import { crewOf, judgeInThread, threadsAllowed } from './crew.ts';
import type { Machine } from './machine.ts';
import { run } from './run.ts';

declare const WAYWARDEN_VERSION: string;

const standardInput = async (): Promise<Uint8Array> => {
  const parts: Buffer[] = [];
  for await (const part of process.stdin) parts.push(Buffer.isBuffer(part) ? part : Buffer.from(part));
  return Buffer.concat(parts);
};

/** Waits until the text is written, so that a pipe loses nothing when the process ends. A closed pipe is no fault. */
const print = (text: string): Promise<void> =>
  new Promise((done, fail) => {
    process.stdout.write(text, (error) => {
      if (error === null || error === undefined || ('code' in error && error.code === 'EPIPE')) done();
      else fail(error);
    });
  });

const wantsColour = (): boolean => {
  const { NO_COLOR: never, FORCE_COLOR: always } = process.env;
  if (never !== undefined && never !== '') return false;
  if (always !== undefined && always !== '') return always !== '0';
  return process.stdout.isTTY === true;
};

const machine: Machine<Host> = {
  version: WAYWARDEN_VERSION,
  environment: process.env,
  coloured: wantsColour(),
  now: clockNow,
  decode: decodeText,
  standardInput,
  print,
  host: (dataFolders) => ({ files: diskFiles(), dataFolders, restricted: false, cache: worldCache() }),
  prepare,
  versions: openVersions,
  changesSince,
  crew: (terms, plans) =>
    crewOf(new URL(import.meta.url), terms, plans, threadsAllowed(process.env['WAYWARDEN_THREADS'])),
  watched: process.stderr.isTTY === true,
  serve: async () => {
    await import('../lsp/node-main.ts');
    return new Promise(() => {});
  },
};

process.stdout.on('error', () => {});
if (isMainThread) process.exitCode = await run(process.argv.slice(2), machine, (text) => process.stderr.write(text));
else judgeInThread(machine);
