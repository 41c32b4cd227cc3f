import { delimiter, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { createConnection, ProposedFeatures } from 'vscode-languageserver/node';
import { clockNow } from '../host/clock.ts';
import { diskFiles } from '../host/disk.ts';
import { findRoot } from '../host/find-root.ts';
import { worldCache } from '../host/load-world.ts';
import { prepare } from '../host/prepare.ts';
import { isAddress, plainAddress } from './address.ts';
import type { Machine } from './machine.ts';
import { diskOrAsked } from './request-files.ts';
import { start } from './server.ts';

declare const WAYWARDEN_VERSION: string;

/** A path for what lies on the disk; the address itself for all else. */
const locationOf = (uri: string): string => {
  if (!/^file:/i.test(uri)) return plainAddress(uri);
  try {
    return fileURLToPath(uri);
  } catch {
    return plainAddress(uri);
  }
};

const cache = worldCache();

const machine: Machine = {
  version: WAYWARDEN_VERSION,
  dataFolders: (process.env['WAYWARDEN_DATA'] ?? '')
    .split(delimiter)
    .filter((folder) => folder !== '')
    .map((folder) => resolve(folder)),
  now: clockNow,
  locationOf,
  uriOf: (location) => (isAddress(location) ? location : pathToFileURL(location).href),
  files: (asked) => diskOrAsked(diskFiles(), asked),
  rootOf: findRoot,
  prepare: (text, location, files, grants, now, earlier) =>
    prepare(text, location, { files, cache, ...grants }, now, earlier),
};

start(createConnection(ProposedFeatures.all), machine);
