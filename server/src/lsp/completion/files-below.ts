import type { Files } from '../../world/files.ts';

/** Folders that hold no plans and are large. */
const SKIPPED: ReadonlySet<string> = new Set(['node_modules', '.git', 'dist', 'out', '.vscode']);

/** A repository may be huge, and each folder of a virtual one is a request: what is beyond this is not looked at. */
const MOST_FOLDERS = 400;
const DEEPEST = 12;

export interface Below {
  readonly locations: readonly string[];
  /** True where not all folders were looked into. */
  readonly isPartial: boolean;
}

/**
 * The files below a folder whose names are wanted, in the order of their names, nearest first. Folders that cannot be
 * listed hold nothing; links to folders are not followed twice. Never rejects.
 */
export const filesBelow = async (
  files: Files,
  root: string,
  isWanted: (name: string) => boolean,
  isGivenUp: () => boolean = () => false,
): Promise<Below> => {
  const locations: string[] = [];
  const seen = new Set<string>();
  let waiting: readonly string[] = [root];
  let looked = 0;
  for (let depth = 0; depth < DEEPEST && waiting.length > 0; depth++) {
    const next: string[] = [];
    for (const folder of waiting) {
      if (looked >= MOST_FOLDERS || isGivenUp()) return { locations, isPartial: true };
      looked++;
      const real = await files.real(folder).catch(() => folder);
      if (seen.has(real)) continue;
      seen.add(real);
      const names = await files.list(folder).catch((): readonly string[] => []);
      for (const name of names) {
        const location = files.resolve(`${folder}/.`, name);
        if (isWanted(name)) locations.push(location);
        // Asking the kind of every file would be a request each; a name with an ending is nearly always a file.
        else if (!SKIPPED.has(name) && !/\.[A-Za-z][A-Za-z0-9]{1,9}$/.test(name)) next.push(location);
      }
    }
    waiting = next;
  }
  return { locations, isPartial: waiting.length > 0 };
};

const partsOf = (location: string): readonly string[] => location.replaceAll('\\', '/').split('/');

const decoded = (part: string): string => {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
};

/** A location as a document refers to it: `../fleet/wren.aircraft.yaml`. */
export const referenceTo = (location: string, document: string, isAddress: boolean): string => {
  const to = partsOf(location);
  const from = partsOf(document).slice(0, -1);
  let shared = 0;
  while (shared < from.length && shared < to.length - 1 && from[shared] === to[shared]) shared++;
  const names = to.slice(shared).map((name) => (isAddress ? decoded(name) : name));
  return [...from.slice(shared).map(() => '..'), ...names].join('/');
};
