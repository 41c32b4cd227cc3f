import { execFileSync } from 'node:child_process';
import { mkdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** A git repository in a folder of its own, for tests; the people and dates of its commits are made up. */
export interface MadeRepository {
  readonly root: string;
  git(...words: readonly string[]): string;
  /** Writes a file; undefined takes it away. */
  put(path: string, content: string | Uint8Array | undefined): void;
  link(path: string, target: string): void;
  /** Commits everything and returns the commit. */
  commit(message: string): string;
}

const ENVIRONMENT = {
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  GIT_AUTHOR_NAME: 'Test',
  GIT_AUTHOR_EMAIL: 'test@example.invalid',
  GIT_AUTHOR_DATE: '2027-06-01T00:00:00Z',
  GIT_COMMITTER_NAME: 'Test',
  GIT_COMMITTER_EMAIL: 'test@example.invalid',
  GIT_COMMITTER_DATE: '2027-06-01T00:00:00Z',
};

export const makeRepository = (root: string): MadeRepository => {
  const git = (...words: readonly string[]): string =>
    execFileSync('git', ['-C', root, ...words], { encoding: 'utf8', env: { ...process.env, ...ENVIRONMENT } });
  const made = (path: string): string => {
    const place = join(root, path);
    mkdirSync(dirname(place), { recursive: true });
    return place;
  };
  git('init', '-q', '-b', 'main');
  return {
    root,
    git,
    put: (path, content) => {
      if (content === undefined) rmSync(join(root, path));
      else writeFileSync(made(path), content);
    },
    link: (path, target) => symlinkSync(target, made(path)),
    commit: (message) => {
      git('add', '-A');
      git('commit', '-q', '--allow-empty', '-m', message);
      return git('rev-parse', 'HEAD').trim();
    },
  };
};
