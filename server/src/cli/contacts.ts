import { readFile, realpath, stat } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { flatten } from '../plan/flat-tree.ts';
import { readPiece } from '../plan/tree.ts';
import { UsageError } from './arguments.ts';
import { reasonOf } from './find-plans.ts';
import { shownPath } from './shown-path.ts';

/** Who can be reached, and how. It stands in the brief and nowhere else. */
export interface Contact {
  readonly who: string;
  readonly how: string;
}

const MOST = 200;

/** The nearest folder upwards that git keeps; undefined outside of one. */
const repositoryOf = async (path: string): Promise<string | undefined> => {
  for (let folder = dirname(path); ; folder = dirname(folder)) {
    const found = await stat(join(folder, '.git')).catch(() => undefined);
    if (found !== undefined) return folder;
    if (dirname(folder) === folder) return undefined;
  }
};

/**
 * Contacts for a brief: a map of a role to how it is reached, such as `tower: 555-0100`. They come at print time from a
 * file that git does not keep, so one inside a repository is refused. No message quotes what stands in it.
 */
export const readContacts = async (path: string): Promise<readonly Contact[]> => {
  const shown = JSON.stringify(shownPath(path));
  let text: string;
  try {
    const real = await realpath(resolve(path));
    const repository = await repositoryOf(real);
    if (repository !== undefined) {
      throw new UsageError(
        `--with ${shown} lies in the repository ${JSON.stringify(repository)}: contacts of people are kept outside of git, so move the file out of it`,
      );
    }
    text = await readFile(real, 'utf8');
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError(`--with ${shown} cannot be read: ${reasonOf(error)}`);
  }
  const { root, slips } = readPiece({ text, at: 0 }, { document: path, at: 0 });
  if (root?.kind !== 'mapping' || slips.length > 0) {
    throw new UsageError(`--with ${shown} is no plain list of roles with how to reach them, such as "tower: 555-0100"`);
  }
  const contacts = [...flatten(root)].map(([who, how]) => ({ who: who.replaceAll('.', ', '), how }));
  if (contacts.length > MOST) throw new UsageError(`--with ${shown} has more than ${MOST} contacts`);
  return contacts;
};
