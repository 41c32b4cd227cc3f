import type { Connection } from 'vscode-languageserver';
import type { FileStat, Files } from '../world/files.ts';
import { isAddress, plainAddress, resolveAddress } from './address.ts';

/**
 * The requests of ours by which a client opens files for a server that has no disk. The client announces them by
 * `files: true` among its initialization options. Each takes `{ uri }`.
 */
export const FILE_REQUESTS = {
  /** Answers `{ bytes: Uint8Array }`, or `{ base64: string }` where the transport carries text only. */
  read: 'waywarden/readFile',
  /** Answers `{ kind: 'file' | 'folder', size, modified }` with the change time in ms since 1970, or null. */
  stat: 'waywarden/stat',
  /** Answers `{ names: string[] }`. */
  list: 'waywarden/list',
} as const;

const fieldOf = (answer: unknown, name: string): unknown =>
  typeof answer === 'object' && answer !== null ? Reflect.get(answer, name) : undefined;

const bytesOf = (answer: unknown): Uint8Array => {
  const bytes = fieldOf(answer, 'bytes');
  if (bytes instanceof Uint8Array) return bytes;
  const base64 = fieldOf(answer, 'base64');
  if (typeof base64 !== 'string') throw new Error('came in a form that this program does not know');
  return Uint8Array.from(atob(base64), (unit) => unit.charCodeAt(0));
};

const statOf = (answer: unknown): FileStat | undefined => {
  if (answer === null || answer === undefined) return undefined;
  const size = fieldOf(answer, 'size');
  const modified = fieldOf(answer, 'modified');
  if (typeof size !== 'number' || typeof modified !== 'number') throw new Error('could not be looked at');
  const kind = fieldOf(answer, 'kind') === 'folder' ? 'folder' : 'file';
  const known = Number.isFinite(modified) && modified > 0 && modified < 8.64e15;
  const time = known ? { modified: new Date(modified).toISOString().replace(/\.\d+Z$/, 'Z') } : {};
  return { kind, size, ...time, version: `${size}:${modified}` };
};

const namesOf = (answer: unknown): readonly string[] => {
  const names = fieldOf(answer, 'names');
  if (!Array.isArray(names)) throw new Error('could not be listed');
  return names.filter((name) => typeof name === 'string').sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
};

/** Files that the client opens for us, whole. Locations are addresses; a virtual file system has no links to resolve. */
export const requestFiles = (connection: Pick<Connection, 'sendRequest'>): Files => {
  const ask = async (method: string, uri: string): Promise<unknown> => {
    try {
      return await connection.sendRequest(method, { uri });
    } catch (error) {
      throw new Error(error instanceof Error && error.message !== '' ? error.message : 'could not be opened');
    }
  };
  const stat = async (location: string): Promise<FileStat | undefined> =>
    statOf(await ask(FILE_REQUESTS.stat, location));
  return {
    resolve: resolveAddress,
    real: async (location) => {
      if ((await stat(location)) === undefined) throw new Error('does not exist');
      return plainAddress(location);
    },
    stat,
    list: async (folder) => namesOf(await ask(FILE_REQUESTS.list, folder)),
    read: async (location) => bytesOf(await ask(FILE_REQUESTS.read, location)),
  };
};

const unreachable = async (): Promise<never> => {
  throw new Error('cannot be reached: the document does not lie on this machine’s disk');
};

/** For documents that lie nowhere that can be reached, such as a plan that was never saved. */
export const noFiles: Files = {
  resolve: resolveAddress,
  real: unreachable,
  stat: unreachable,
  list: unreachable,
  read: unreachable,
};

/** Files that come whole are read up to this size only. */
const LARGEST_WHOLE = 32 * 1024 * 1024;

/** Parts of files that can only be had whole. The last file is kept, since its parts are asked for one after another. */
const partsOfWhole = (files: Files): NonNullable<Files['readPart']> => {
  let kept: { readonly key: string; readonly bytes: Promise<Uint8Array> } | undefined;
  return async (location, offset, length) => {
    const found = await files.stat(location);
    if (found !== undefined && found.size > LARGEST_WHOLE)
      throw new Error('is larger than 32 MB, and here files can only be read whole');
    const key = `${location} ${found?.version ?? ''}`;
    if (kept?.key !== key) kept = { key, bytes: files.read(location) };
    return (await kept.bytes).subarray(offset, offset + length);
  };
};

/** Paths go to the disk, addresses to the client, where it opens files, or nowhere. */
export const diskOrAsked = (disk: Files, asked: Files = noFiles): Files => {
  const by = (location: string): Files => (isAddress(location) ? asked : disk);
  const partsOf = (files: Files): NonNullable<Files['readPart']> => files.readPart?.bind(files) ?? partsOfWhole(files);
  const ofDisk = partsOf(disk);
  const ofAsked = partsOf(asked);
  return {
    resolve: (document, reference) => by(document).resolve(document, reference),
    real: (location) => by(location).real(location),
    stat: (location) => by(location).stat(location),
    list: (folder) => by(folder).list(folder),
    read: (location) => by(location).read(location),
    readPart: (location, offset, length) => (isAddress(location) ? ofAsked : ofDisk)(location, offset, length),
  };
};
