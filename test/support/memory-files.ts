import type { Files } from '../../server/src/world/files.ts';

export interface MemoryOptions {
  /** Links: location -> the location it leads to. */
  readonly links?: Readonly<Record<string, string>>;
  /** `whole`: only whole files can be read, as in a browser. */
  readonly reads?: 'parts' | 'whole';
  readonly modified?: string;
}

const normal = (path: string): string => {
  const parts: string[] = [];
  for (const part of path.split('/')) {
    if (part === '' || part === '.') continue;
    if (part === '..') parts.pop();
    else parts.push(part);
  }
  return `/${parts.join('/')}`;
};

const bytesOf = (content: string | Uint8Array): Uint8Array =>
  typeof content === 'string' ? new TextEncoder().encode(content) : content;

/** A small digest, so that a changed content of the same size is another version. */
const versionOf = (bytes: Uint8Array): string => {
  let hash = 2166136261;
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 16777619) >>> 0;
  return `${bytes.length}:${hash}`;
};

/** Files held in memory: absolute path -> content. Folders are where the paths say. */
export const memoryFiles = (
  contents: Readonly<Record<string, string | Uint8Array>>,
  options: MemoryOptions = {},
): Files & { readonly reads: string[] } => {
  const files = new Map(Object.entries(contents).map(([path, content]) => [normal(path), bytesOf(content)]));
  const links = new Map(Object.entries(options.links ?? {}).map(([from, to]) => [normal(from), normal(to)]));
  const reads: string[] = [];

  const follow = (location: string): string => {
    let path = normal(location);
    for (let turns = 0; turns < 40; turns++) {
      const link = [...links.keys()].find((from) => path === from || path.startsWith(`${from}/`));
      if (link === undefined) return path;
      path = normal(`${links.get(link)}${path.slice(link.length)}`);
    }
    throw new Error('is a link that leads back to itself');
  };
  const isFolder = (path: string): boolean =>
    path === '/' || [...files.keys(), ...links.keys()].some((file) => file.startsWith(`${path}/`));
  const content = (location: string): Uint8Array => {
    const path = follow(location);
    const found = files.get(path);
    if (found === undefined) throw new Error(isFolder(path) ? 'is a folder' : 'does not exist');
    reads.push(path);
    return found;
  };

  const base: Files & { readonly reads: string[] } = {
    reads,
    resolve: (document, reference) =>
      normal(reference.startsWith('/') ? reference : `${document.slice(0, document.lastIndexOf('/'))}/${reference}`),
    real: async (location) => {
      const path = follow(location);
      if (!files.has(path) && !isFolder(path)) throw new Error('does not exist');
      return path;
    },
    stat: async (location) => {
      const path = follow(location);
      const found = files.get(path);
      const modified = options.modified ?? '2026-06-01T00:00:00Z';
      if (found !== undefined) return { kind: 'file', size: found.length, modified, version: versionOf(found) };
      return isFolder(path) ? { kind: 'folder', size: 0, modified, version: 'folder' } : undefined;
    },
    list: async (folder) => {
      const path = follow(folder);
      const start = path === '/' ? '/' : `${path}/`;
      const names = [...files.keys(), ...links.keys()]
        .filter((file) => file.startsWith(start))
        .map((file) => file.slice(start.length).split('/')[0] ?? '');
      return [...new Set(names)].sort();
    },
    read: async (location) => content(location),
  };
  if (options.reads === 'whole') return base;
  return {
    ...base,
    readPart: async (location, offset, length) => content(location).slice(offset, offset + length),
  };
};
