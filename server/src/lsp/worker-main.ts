import { BrowserMessageReader, BrowserMessageWriter, createConnection } from 'vscode-languageserver/browser';
import { clockNow } from '../host/clock.ts';
import { findRoot } from '../host/find-root.ts';
import { worldCache } from '../host/load-world.ts';
import { prepare } from '../host/prepare.ts';
import { plainAddress } from './address.ts';
import type { Machine } from './machine.ts';
import { noFiles } from './request-files.ts';
import { start } from './server.ts';

declare const WAYWARDEN_VERSION: string;
declare const self: DedicatedWorkerGlobalScope;

const cache = worldCache();

/** A browser has no disk: every file comes from the client, whole, and locations are addresses. */
const machine: Machine = {
  version: WAYWARDEN_VERSION,
  dataFolders: [],
  now: clockNow,
  locationOf: plainAddress,
  uriOf: (location) => location,
  files: (asked) => asked ?? noFiles,
  rootOf: findRoot,
  prepare: (text, location, files, grants, now, earlier) =>
    prepare(text, location, { files, cache, ...grants }, now, earlier),
};

start(createConnection(new BrowserMessageReader(self), new BrowserMessageWriter(self)), machine);
