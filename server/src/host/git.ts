import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const execute = promisify(execFile);

/** Git could not answer; the message is for people and names the command that helps, where there is one. */
export class GitError extends Error {
  override readonly name = 'GitError';
}

/** One entry of a tree. Links keep their target as content. */
export interface TreeEntry {
  readonly kind: 'file' | 'link' | 'module';
  readonly object: string;
  readonly size: number;
}

/**
 * Reads a repository by its objects. Nothing is checked out and nothing that the repository configures is run: only
 * commands that read objects are called, hooks and file watchers are switched off, and no object is fetched.
 */
export interface Repository {
  /** The top folder of the working tree. */
  readonly root: string;
  /** The commit that a name stands for. */
  commit(name: string): Promise<string>;
  /** Where two commits parted. */
  mergeBase(one: string, other: string): Promise<string>;
  /** All entries of a commit's tree by path from the root. */
  tree(commit: string): Promise<ReadonlyMap<string, TreeEntry>>;
  read(object: string): Promise<Uint8Array>;
}

const LARGEST = 256 * 1024 * 1024;

/** The user's own configuration counts, as they trust it; what the repository itself may say must not run anything. */
const HARMLESS = [
  '--no-pager',
  '--no-replace-objects',
  '--literal-pathspecs',
  '-c',
  'core.fsmonitor=false',
  '-c',
  'core.hooksPath=/dev/null',
  '-c',
  'core.pager=cat',
  '-c',
  'protocol.allow=never',
];

/** Of the variables of git these stay; the others could point it elsewhere (a hook sets some) or start programs. */
const KEPT = /^GIT_(CONFIG_(COUNT|KEY_\d+|VALUE_\d+|GLOBAL)|CEILING_DIRECTORIES)$/;

const environment = (): NodeJS.ProcessEnv => ({
  ...Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('GIT_') || KEPT.test(name))),
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_TERMINAL_PROMPT: '0',
  GIT_OPTIONAL_LOCKS: '0',
  GIT_NO_LAZY_FETCH: '1',
  GIT_ALLOW_PROTOCOL: 'none',
  LC_ALL: 'C',
});

const saidBy = (error: unknown): string => {
  const told = error instanceof Error && 'stderr' in error ? String(error.stderr) : '';
  return told.trim().split('\n')[0] ?? '';
};

const isMissing = (error: unknown): boolean => error instanceof Error && 'code' in error && error.code === 'ENOENT';

const git = async (folder: string, words: readonly string[]): Promise<Buffer> => {
  try {
    const { stdout } = await execute('git', ['-C', folder, ...HARMLESS, ...words], {
      encoding: 'buffer',
      maxBuffer: LARGEST,
      env: environment(),
    });
    return stdout;
  } catch (error) {
    if (isMissing(error))
      throw new GitError('git is not installed, and it is needed to read another version of a plan');
    throw error;
  }
};

const textOf = async (folder: string, words: readonly string[]): Promise<string> =>
  (await git(folder, words)).toString('utf8');

/** `git fetch` words that bring what a shallow clone lacks. */
const howToDeepen = async (root: string): Promise<string> => {
  const shallow = (await textOf(root, ['rev-parse', '--is-shallow-repository'])).trim() === 'true';
  return shallow ? '; the clone is shallow: run "git fetch --unshallow", or fetch with a depth of 0 in CI' : '';
};

const commitOf = async (root: string, name: string): Promise<string> => {
  // A name that begins with a dash would be taken for a switch; git allows no such name.
  if (name === '' || name.startsWith('-') || /[\u0000-\u001f]/.test(name))
    throw new GitError(`${JSON.stringify(name)} is no name of a version`);
  try {
    const found = await textOf(root, ['rev-parse', '--verify', '--quiet', '--end-of-options', `${name}^{commit}`]);
    return found.trim();
  } catch {
    const branch = name.replace(/^origin\//, '');
    // Only a plain name goes into a command that people may copy.
    const plain = /^[A-Za-z0-9][\w./-]*$/.test(branch);
    const hint = plain ? `; if it is a branch of the remote, run "git fetch origin ${branch}" first` : '';
    throw new GitError(`there is no version ${JSON.stringify(name)} here${await howToDeepen(root)}${hint}`);
  }
};

const mergeBaseOf = async (root: string, one: string, other: string): Promise<string> => {
  try {
    return (await textOf(root, ['merge-base', '--end-of-options', one, other])).trim();
  } catch {
    const deepen = await howToDeepen(root);
    throw new GitError(`the two versions have no common ancestor here${deepen === '' ? '' : deepen}`);
  }
};

/** `100644 blob <object> <size>\t<path>` */
const ENTRY = /^(\d{6}) (blob|commit) ([0-9a-f]{40,64}) +(\d+|-)\t/;

const treeOf = async (root: string, commit: string): Promise<ReadonlyMap<string, TreeEntry>> => {
  const listed = await textOf(root, ['ls-tree', '-r', '-z', '-l', '--full-tree', '--end-of-options', commit]);
  const entries = new Map<string, TreeEntry>();
  for (const line of listed.split('\0')) {
    const found = ENTRY.exec(line);
    if (found === null) continue;
    const [head, mode, type, object, size] = found;
    if (object === undefined) continue;
    const kind = type === 'commit' ? 'module' : mode === '120000' ? 'link' : 'file';
    entries.set(line.slice(head.length), { kind, object, size: size === '-' ? 0 : Number(size) });
  }
  return entries;
};

/** Opens the repository that a folder lies in. */
export const openRepository = async (folder: string): Promise<Repository> => {
  let root: string;
  try {
    root = (await textOf(folder, ['rev-parse', '--show-toplevel'])).replace(/\n$/, '');
  } catch (error) {
    if (error instanceof GitError) throw error;
    if (saidBy(error).includes('dubious ownership')) {
      const shown = JSON.stringify(folder);
      throw new GitError(
        `git does not trust ${shown}, since it belongs to another user; git config --global --add safe.directory ${shown} helps`,
      );
    }
    throw new GitError(`${JSON.stringify(folder)} does not lie in a git repository: ${saidBy(error)}`);
  }
  return {
    root,
    commit: (name) => commitOf(root, name),
    mergeBase: (one, other) => mergeBaseOf(root, one, other),
    tree: (commit) => treeOf(root, commit),
    read: (object) => git(root, ['cat-file', 'blob', object]),
  };
};
