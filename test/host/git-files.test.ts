import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { diskFiles } from '../../server/src/host/disk.ts';
import { openRepository, type Repository } from '../../server/src/host/git.ts';
import { gitFiles } from '../../server/src/host/git-files.ts';
import type { Files } from '../../server/src/world/files.ts';
import { type MadeRepository, makeRepository } from '../support/made-repository.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const folder = temporaryFolder();
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

describe('a repository read by its objects', () => {
  let made: MadeRepository;
  let repository: Repository;
  let first: string;
  let files: Files;
  const at = (path: string): string => join(repository.root, path);

  beforeAll(async () => {
    made = makeRepository(folder);
    made.put('plans/a.mission.yaml', 'first');
    made.put('plans/deep/b.mission.yaml', 'b');
    made.put('world/dem/one.tif', new Uint8Array([1, 2, 3, 4]));
    made.put('names/line\nbreak\u202e.mission.yaml', 'odd');
    made.link('plans/link.mission.yaml', 'deep/b.mission.yaml');
    made.link('ground', 'world/dem');
    made.link('plans/out', '../../elsewhere');
    made.link('plans/absolute', '/etc/passwd');
    made.link('plans/round', 'round');
    first = made.commit('first');
    made.put('plans/a.mission.yaml', 'second');
    made.put('plans/deep/b.mission.yaml', undefined);
    made.commit('second');
    repository = await openRepository(join(made.root, 'plans'));
    files = await gitFiles(repository, first, diskFiles());
  });

  test('gives files as they were, whatever the working tree holds now', async () => {
    expect(repository.root).toBe(made.root);
    expect(text(await files.read(at('plans/a.mission.yaml')))).toBe('first');
    expect(text(await files.read(at('plans/deep/b.mission.yaml')))).toBe('b');
    expect(text(await files.read(at('names/line\nbreak\u202e.mission.yaml')))).toBe('odd');
  });

  test('tells folders, sizes and versions that change with the content only', async () => {
    expect(await files.stat(at('plans'))).toMatchObject({ kind: 'folder' });
    expect(await files.stat(at('.git'))).toMatchObject({ kind: 'folder' });
    expect(await files.stat(at('plans/none.yaml'))).toBeUndefined();
    const now = await gitFiles(repository, await repository.commit('HEAD'), diskFiles());
    const [old, same] = [await files.stat(at('world/dem/one.tif')), await now.stat(at('world/dem/one.tif'))];
    expect(old).toEqual(same);
    expect(old?.size).toBe(4);
    expect((await files.stat(at('plans/a.mission.yaml')))?.version).not.toBe(
      (await now.stat(at('plans/a.mission.yaml')))?.version,
    );
    expect(await files.list(at('plans'))).toEqual(
      ['a.mission.yaml', 'absolute', 'deep', 'link.mission.yaml', 'out', 'round'].sort(),
    );
  });

  test('reads parts of a file', async () => {
    expect([...((await files.readPart?.(at('world/dem/one.tif'), 1, 2)) ?? [])]).toEqual([2, 3]);
  });

  test('follows links inside the repository and none that lead out of it', async () => {
    expect(text(await files.read(at('plans/link.mission.yaml')))).toBe('b');
    expect(await files.real(at('ground/one.tif'))).toBe(at('world/dem/one.tif'));
    await expect(files.read(at('plans/out'))).rejects.toThrow('leads by a link out of the repository');
    await expect(files.real(at('plans/absolute'))).rejects.toThrow('leads by a link out of the repository');
    await expect(files.stat(at('plans/round'))).rejects.toThrow('leads back to itself');
  });

  test.each(['-n', '--upload-pack=touch pwned', '', 'a\nb', 'HEAD:plans', 'no-such-branch'])(
    'takes %j for no version',
    async (name) => {
      await expect(repository.commit(name)).rejects.toThrow(/is no name of a version|there is no version/);
    },
  );

  test('a shallow clone says what to fetch', async () => {
    const shallow = join(made.root, '.git', 'shallow-clone');
    execFileSync('git', ['clone', '-q', '--depth', '1', `file://${made.root}`, shallow]);
    const clone = await openRepository(shallow);
    await expect(clone.commit(first)).rejects.toThrow('git fetch --unshallow');
  });

  test('runs nothing that the repository configures', async () => {
    const mark = join(made.root, 'pwned');
    const run = `touch '${mark}'`;
    made.git('config', 'core.fsmonitor', run);
    made.git('config', 'core.pager', run);
    made.git('config', 'diff.external', run);
    made.git('config', 'alias.ls-tree', `!${run}`);
    made.git('config', 'core.sshCommand', run);
    made.git('config', 'core.alternateRefsCommand', run);
    made.git('config', 'filter.x.smudge', run);
    const again = await openRepository(made.root);
    const other = await gitFiles(again, await again.mergeBase(first, await again.commit('HEAD')), diskFiles());
    expect(text(await other.read(at('plans/a.mission.yaml')))).toBe('first');
    expect(existsSync(mark)).toBe(false);
  });

  test('a folder outside any repository says so', async () => {
    await expect(openRepository('/')).rejects.toThrow('does not lie in a git repository');
  });
});
