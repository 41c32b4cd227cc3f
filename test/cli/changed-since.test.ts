import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import { callProcess, isBuilt } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const PLAN = readProject('samples/first.mission.yaml')
  .replace('fleet/dipper-1.aircraft.yaml', '../fleet/one.aircraft.yaml')
  .replace('terrain: world/lakes.tif', 'terrain: ../world/tiles')
  .replace('world/lakes-zones.geojson', '../world/zones.geojson');

const git = (folder: string, ...words: readonly string[]): string =>
  execFileSync('git', ['-c', 'user.name=a', '-c', 'user.email=a@example.org', '-c', 'commit.gpgsign=false', ...words], {
    cwd: folder,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
  });

const commit = (folder: string, message: string): string => {
  git(folder, 'add', '-A');
  git(folder, 'commit', '-q', '-m', message);
  return git(folder, 'rev-parse', 'HEAD').trim();
};

const put = (folder: string, path: string, text: string | Uint8Array): void => {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
};

/** Two plans with an aircraft, zones and tiles of terrain of their own world, and one that names only an aircraft. */
const repository = (): string => {
  const folder = temporaryFolder();
  git(folder, 'init', '-q', '-b', 'main');
  put(folder, 'missions/a.mission.yaml', PLAN);
  put(folder, 'missions/b.mission.yaml', PLAN.replace('one.aircraft', 'two.aircraft'));
  put(folder, 'missions/c.mission.yaml', PLAN.replace(/^(terrain|airspace):.*\n/gm, ''));
  put(folder, 'fleet/one.aircraft.yaml', readProject('samples/fleet/dipper-1.aircraft.yaml'));
  put(folder, 'fleet/two.aircraft.yaml', readProject('samples/fleet/dipper-1.aircraft.yaml'));
  put(folder, 'world/zones.geojson', readProject('samples/world/lakes-zones.geojson'));
  put(folder, 'world/tiles/lakes.tif', readFileSync(new URL('../../samples/world/lakes.tif', import.meta.url)));
  commit(folder, 'start');
  return folder;
};

const checked = (folder: string, ref = 'main', ...words: readonly string[]) => {
  const { code, out, err } = callProcess(
    ['check', '--now', '2027-06-11T18:00-07:00', '--format', 'json', '--changed-since', ref, ...words],
    { folder },
  );
  const report = out === '' ? undefined : (JSON.parse(out) as JsonReport);
  return {
    code,
    err,
    paths: report?.plans.map(({ path }) => path.replace('missions/', '').charAt(0)).join(''),
    report,
  };
};

describe.skipIf(!isBuilt)('--changed-since (skipped without a build)', () => {
  let folder = '';
  beforeAll(() => {
    folder = repository();
  });

  /** Puts a change into the working tree, looks which plans are judged, and takes it back. */
  const after = (change: () => void): string | undefined => {
    change();
    const { paths } = checked(folder);
    git(folder, 'checkout', '-q', '--', '.');
    git(folder, 'clean', '-fdq');
    return paths;
  };

  test('judges no plan where nothing has changed, says so, and passes', () => {
    const { code, err, report } = checked(folder);
    expect(code).toBe(0);
    expect(report?.plans).toEqual([]);
    expect(report?.unaffected).toBe(3);
    expect(err).toBe('waywarden: 3 plans not looked at: nothing that they read has changed since "main"\n');
  });

  test.each<[string, (at: string) => void, string]>([
    ['a plan', (at) => put(at, 'missions/b.mission.yaml', `${PLAN}# a word\n`), 'b'],
    ['a new plan', (at) => put(at, 'missions/d.mission.yaml', PLAN), 'd'],
    ['an aircraft', (at) => put(at, 'fleet/two.aircraft.yaml', readProject('samples/fleet/plover.aircraft.yaml')), 'b'],
    ['an aircraft that is gone', (at) => rmSync(join(at, 'fleet/two.aircraft.yaml')), 'b'],
    ['zones', (at) => put(at, 'world/zones.geojson', '{}'), 'ab'],
    ['a new tile of terrain', (at) => put(at, 'world/tiles/more.tif', 'no raster'), 'ab'],
    ['a tile of terrain', (at) => put(at, 'world/tiles/lakes.tif', 'no raster'), 'ab'],
    ['settings of the house', (at) => put(at, 'waywarden.settings.yaml', 'settings: 1\n'), 'abc'],
    ['settings beside the plans', (at) => put(at, 'missions/waywarden.settings.yaml', 'settings: 1\n'), 'abc'],
    ['a file that no plan reads', (at) => put(at, 'README.md', 'read me'), ''],
  ])('judges what reads %s', (_, change, plans) => {
    expect(after(() => change(folder))).toBe(plans);
  });

  test('takes line ends for no change', () => {
    expect(after(() => put(folder, 'missions/a.mission.yaml', PLAN.replaceAll('\n', '\r\n')))).toBe('');
  });

  test('counts from where a branch parted, not from what came to the other one since', () => {
    const at = repository();
    git(at, 'checkout', '-q', '-b', 'work');
    put(at, 'missions/a.mission.yaml', `${PLAN}# mine\n`);
    commit(at, 'mine');
    git(at, 'checkout', '-q', 'main');
    put(at, 'missions/b.mission.yaml', `${PLAN}# theirs\n`);
    commit(at, 'theirs');
    git(at, 'checkout', '-q', 'work');
    expect(checked(at).paths).toBe('a');
  });

  test('does not take the time of a file for a change', () => {
    expect(after(() => put(folder, 'missions/a.mission.yaml', PLAN))).toBe('');
  });

  test('finds nothing to judge in an empty folder and says so as ever', () => {
    mkdirSync(join(folder, 'empty'));
    const { code, err } = checked(folder, 'main', 'empty');
    expect(code).toBe(2);
    expect(err).toContain('no plan (*.mission.yaml) was found');
  });

  test.each(['--upload-pack=touch pwned', '-x', 'no-such-branch', 'main\nHEAD', 'HEAD:missions', ''])(
    'refuses %j and runs nothing',
    (ref) => {
      const { code, err } = checked(folder, ref);
      expect(code).toBe(2);
      expect(err).toMatch(/^waywarden: --changed-since/);
      expect(existsSync(join(folder, 'pwned'))).toBe(false);
    },
  );

  test('says in a shallow clone which command helps', () => {
    const at = repository();
    put(at, 'missions/a.mission.yaml', `${PLAN}# more\n`);
    const first = git(at, 'rev-parse', 'HEAD').trim();
    commit(at, 'more');
    const clone = join(temporaryFolder(), 'clone');
    execFileSync('git', ['clone', '-q', '--depth', '1', `file://${at}`, clone], { stdio: 'ignore' });
    const { code, err } = checked(clone, first);
    expect(code).toBe(2);
    expect(err).toContain('git fetch --unshallow');
  });

  test('outside of a repository that is an error', () => {
    const { code, err } = checked(temporaryFolder({ 'a.mission.yaml': PLAN }), 'main');
    expect(code).toBe(2);
    expect(err).toContain('does not lie in a git repository');
  });

  test('starts nothing that the configuration of the repository names', () => {
    const at = repository();
    const mark = join(at, 'pwned');
    put(at, 'evil.sh', `#!/bin/sh\ntouch '${mark}'\ncat\n`);
    chmodSync(join(at, 'evil.sh'), 0o755);
    const evil = join(at, 'evil.sh');
    for (const key of [
      'core.fsmonitor',
      'core.pager',
      'diff.external',
      'core.sshCommand',
      'filter.x.clean',
      'filter.x.smudge',
      'diff.x.textconv',
      'core.editor',
      'pager.ls-tree',
      'alias.ls-tree',
      'alias.rev-parse',
    ])
      git(at, 'config', key, key.startsWith('alias') ? `!${evil}` : evil);
    git(at, 'config', 'remote.origin.url', `ext::${evil}`);
    git(at, 'config', 'remote.origin.promisor', 'true');
    git(at, 'config', 'extensions.partialClone', 'origin');
    put(at, '.gitattributes', '* filter=x diff=x\n');
    put(at, '.git/hooks/post-index-change', `#!/bin/sh\ntouch '${mark}'\n`);
    chmodSync(join(at, '.git/hooks/post-index-change'), 0o755);
    put(at, 'missions/a.mission.yaml', `${PLAN}# more\n`);
    expect(checked(at).paths).toBe('a');
    checked(at, 'no-such-branch');
    checked(at, '0123456789012345678901234567890123456789');
    expect(existsSync(mark)).toBe(false);
  });

  test('is not led astray by the variables of a hook', () => {
    const other = repository();
    const { out } = callProcess(
      ['check', '--now', '2027-06-11T18:00-07:00', '--format', 'json', '--changed-since', 'main'],
      { folder, environment: { GIT_DIR: join(other, '.git'), GIT_WORK_TREE: other, GIT_INDEX_FILE: '/nowhere' } },
    );
    expect((JSON.parse(out) as JsonReport).unaffected).toBe(3);
  });
});
