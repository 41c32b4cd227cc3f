import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** Path of a file of the project, from its root. */
export const inProject = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

export const readProject = (path: string): string => readFileSync(inProject(path), 'utf8');

/** Paths of all files below a folder, from the project's root, sorted. */
export const filesBelow = (folder: string): readonly string[] =>
  readdirSync(inProject(folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => `${entry.parentPath}/${entry.name}`.slice(inProject('').length))
    .map((path) => path.replaceAll('\\', '/'))
    .sort();
