import type { Files } from '../world/files.ts';
import { liesIn } from './confine.ts';

export const SETTINGS_NAME = 'waywarden.settings.yaml';

/** A tree of folders is never deeper than this; a `Files` that never reaches its top must not hang the program. */
const DEEPEST = 100;

/** The folders from the one that holds a document up to the top. */
const foldersUpwards = (files: Files, document: string): readonly string[] => {
  const folders: string[] = [];
  let folder = files.resolve(document, '.');
  while (folders.length < DEEPEST) {
    folders.push(folder);
    const parent = files.resolve(`${folder}/.`, '..');
    if (parent === folder) break;
    folder = parent;
  }
  return folders;
};

/** A folder that may not be looked into counts as one that does not hold the name. */
const holds = async (files: Files, folder: string, name: string): Promise<boolean> => {
  try {
    return (await files.stat(files.resolve(`${folder}/.`, name))) !== undefined;
  } catch {
    return false;
  }
};

/**
 * The folder that a plan's references may not leave. It is the nearest folder upwards that holds `.git` (a folder, or
 * a file in a work tree). Outside a repository it is the nearest folder upwards that holds a settings file, for a
 * house that keeps its plans without version control, and otherwise the plan's own folder.
 */
export const findRoot = async (files: Files, document: string): Promise<string> => {
  const folders = foldersUpwards(files, document);
  for (const name of ['.git', SETTINGS_NAME]) {
    for (const folder of folders) {
      if (await holds(files, folder, name)) return folder;
    }
  }
  return files.resolve(document, '.');
};

export type FoundSettings =
  | { readonly kind: 'none' }
  | { readonly kind: 'found'; readonly location: string }
  /** There is one, but it may not be read; `reason` finishes the sentence "waywarden.settings.yaml ...". */
  | { readonly kind: 'refused'; readonly location: string; readonly reason: string };

/** The nearest settings file from the plan's folder upwards to the root, which holds the last folder looked into. */
export const findSettings = async (files: Files, document: string, root: string): Promise<FoundSettings> => {
  for (const folder of foldersUpwards(files, document)) {
    if (!liesIn(folder, root)) break;
    const location = files.resolve(`${folder}/.`, SETTINGS_NAME);
    let inside: boolean;
    try {
      const found = await files.stat(location);
      if (found === undefined) continue;
      if (found.kind === 'folder') return { kind: 'refused', location, reason: 'is a folder' };
      inside = liesIn(await files.real(location), await files.real(root));
    } catch (error) {
      const reason = error instanceof Error ? error.message : 'could not be opened';
      return { kind: 'refused', location, reason };
    }
    if (!inside) return { kind: 'refused', location, reason: 'leads by a link out of the repository' };
    return { kind: 'found', location };
  }
  return { kind: 'none' };
};
