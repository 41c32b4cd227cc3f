import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { confine, liesIn } from '../../server/src/host/confine.ts';
import { diskFiles } from '../../server/src/host/disk.ts';
import { findRoot, findSettings } from '../../server/src/host/find-root.ts';
import { memoryFiles } from '../support/memory-files.ts';

const files = memoryFiles(
  {
    '/house/.git/HEAD': 'ref',
    '/house/plans/a.mission.yaml': 'plan',
    '/house/world/ground.tif': 'ground',
    '/house/world/..odd.tif': 'odd name',
    '/house-of-others/ground.tif': 'other',
    '/secret/key.txt': 'TOPSECRET',
    '/data/dem/tile.hgt': 'tile',
    '/more/dem/other.hgt': 'tile',
  },
  {
    links: {
      '/house/world/out.tif': '/secret/key.txt',
      '/house/world/in.tif': '/house/world/ground.tif',
      '/house/world/round.tif': '/house/world/round.tif',
      '/house/world/nowhere.tif': '/house/world/gone.tif',
      '/house/linked': '/secret',
      '/data/dem/out.hgt': '/secret/key.txt',
    },
  },
);
const reach = {
  files,
  document: '/house/plans/a.mission.yaml',
  root: '/house',
  dataFolders: ['/data', '/more'],
  restricted: false,
};

const outcome = async (reference: string, more: Partial<typeof reach> = {}): Promise<string> => {
  const result = await confine(reference, { ...reach, ...more });
  return result.ok ? result.location : `refused: ${result.reason}`;
};

describe('references that are followed', () => {
  test.each([
    ['../world/ground.tif', '/house/world/ground.tif'],
    ['./../world/./ground.tif', '/house/world/ground.tif'],
    ['../world/in.tif', '/house/world/ground.tif'],
    ['../world/', '/house/world'],
    ['../world', '/house/world'],
    ['../world/..odd.tif', '/house/world/..odd.tif'],
    ['a.mission.yaml', '/house/plans/a.mission.yaml'],
    ['data:dem/tile.hgt', '/data/dem/tile.hgt'],
    ['data:dem/other.hgt', '/more/dem/other.hgt'],
    ['data:dem', '/data/dem'],
    ['data:.', '/data'],
  ])('%s leads to %s', async (reference, location) => {
    expect(await outcome(reference)).toBe(location);
  });
});

describe('references that are refused, without telling what is behind them', () => {
  test.each([
    ['', 'is empty'],
    ['  ', 'is empty'],
    ['/house/world/ground.tif', 'absolute path'],
    ['//server/share/ground.tif', 'absolute path'],
    ['\\\\server\\share\\ground.tif', 'backslash'],
    ['..\\world\\ground.tif', 'backslash'],
    ['C:/world/ground.tif', '":"'],
    ['c:ground.tif', '":"'],
    ['file:///house/world/ground.tif', '":"'],
    ['https://example.org/ground.tif', '":"'],
    ['ground.tif:stream', '":"'],
    ['~/ground.tif', '"~"'],
    ['~someone/ground.tif', '"~"'],
    ['../world/ground.tif\u0000.png', 'control character'],
    ['../world/ground\n.tif', 'control character'],
    ['%2e%2e/%2E%2E/secret/key.txt', 'percent code'],
    ['..%2f..%2fsecret/key.txt', 'percent code'],
    ['%252e%252e/secret', 'percent code'],
    [`${'a'.repeat(2000)}.tif`, 'longer than 1024'],
    ['../../secret/key.txt', "leads out of the plan's repository"],
    ['../../secret/not-there.txt', "leads out of the plan's repository"],
    ['../../house-of-others/ground.tif', "leads out of the plan's repository"],
    ['..', '/house'],
    ['../..', "leads out of the plan's repository"],
    ['../world/out.tif', "leads by a link out of the plan's repository"],
    ['../linked/key.txt', "leads by a link out of the plan's repository"],
    ['../world/round.tif', 'link that leads back to itself'],
    ['../world/nowhere.tif', 'does not exist'],
    ['../world/not-there.tif', 'does not exist'],
    ['data:../secret/key.txt', 'leads out of the data folder'],
    ['data:dem/out.hgt', 'out of the data folder'],
    ['data:/secret/key.txt', 'absolute path'],
    ['data:file:///secret', '":"'],
    ['data:', 'is empty'],
    ['data:dem/not-there.hgt', 'does not exist'],
    ['DATA:dem/tile.hgt', '":"'],
  ])('%j: %s', async (reference, reason) => {
    const told = await outcome(reference);
    expect(told).toContain(reason);
    if (reference !== '..') expect(told).toMatch(/^refused: /);
    expect(told).not.toContain('secret');
    expect(told).not.toContain('TOPSECRET');
  });

  test('a target outside is refused in the same words whether it exists or not', async () => {
    expect(await outcome('../../secret/key.txt')).toBe(await outcome('../../secret/nothing.txt'));
  });

  test('in restricted mode no data folder is granted', async () => {
    expect(await outcome('data:dem/tile.hgt', { restricted: true })).toContain('restricted mode');
    expect(await outcome('../world/ground.tif', { restricted: true })).toBe('/house/world/ground.tif');
  });

  test('without a data folder on the machine', async () => {
    expect(await outcome('data:dem/tile.hgt', { dataFolders: [] })).toContain('none is granted on this machine');
  });
});

test('a folder does not hold its namesakes, whichever slash the system writes', () => {
  expect(liesIn('/house', '/house')).toBe(true);
  expect(liesIn('/house/a', '/house/')).toBe(true);
  expect(liesIn('/house2/a', '/house')).toBe(false);
  expect(liesIn('C:\\house\\a', 'C:\\house')).toBe(true);
  expect(liesIn('C:\\house2', 'C:\\house')).toBe(false);
  expect(liesIn('/anything', '/')).toBe(true);
});

describe('the root and the settings', () => {
  const plan = '/top/house/plans/deep/a.mission.yaml';
  test.each([
    ['the folder that holds .git', { '/top/house/.git/HEAD': '', '/top/waywarden.settings.yaml': '' }, '/top/house'],
    ['a .git file of a work tree', { '/top/house/plans/.git': 'gitdir: elsewhere' }, '/top/house/plans'],
    ['without a repository the folder of the settings', { '/top/house/waywarden.settings.yaml': '' }, '/top/house'],
    ['with neither, the plan’s own folder', {}, '/top/house/plans/deep'],
  ])('%s', async (_, contents, root) => {
    expect(await findRoot(memoryFiles({ ...contents, [plan]: '' }), plan)).toBe(root);
  });

  test('the nearest settings file counts, and none above the root', async () => {
    const inside = memoryFiles({
      [plan]: '',
      '/top/house/waywarden.settings.yaml': 'far',
      '/top/house/plans/waywarden.settings.yaml': 'near',
    });
    expect(await findSettings(inside, plan, '/top/house')).toEqual({
      kind: 'found',
      location: '/top/house/plans/waywarden.settings.yaml',
    });
    const above = memoryFiles({ [plan]: '', '/top/waywarden.settings.yaml': 'above' });
    expect(await findSettings(above, plan, '/top/house')).toEqual({ kind: 'none' });
  });

  test('a settings file that leads out of the root is refused and not silently left out', async () => {
    const linked = memoryFiles(
      { [plan]: '', '/secret/own.yaml': '' },
      { links: { '/top/house/waywarden.settings.yaml': '/secret/own.yaml' } },
    );
    expect(await findSettings(linked, plan, '/top/house')).toMatchObject({ kind: 'refused' });
    const folder = memoryFiles({ [plan]: '', '/top/house/waywarden.settings.yaml/x': '' });
    expect(await findSettings(folder, plan, '/top/house')).toMatchObject({ kind: 'refused', reason: 'is a folder' });
  });
});

describe('on the disk', () => {
  let top = '';
  beforeAll(() => {
    top = mkdtempSync(join(tmpdir(), 'confine-'));
    mkdirSync(join(top, 'house', 'world'), { recursive: true });
    mkdirSync(join(top, 'outside'));
    writeFileSync(join(top, 'house', 'world', 'ground.tif'), '0123456789');
    writeFileSync(join(top, 'outside', 'key.txt'), 'TOPSECRET');
    symlinkSync(join(top, 'outside', 'key.txt'), join(top, 'house', 'world', 'out.tif'));
    symlinkSync(join(top, 'house'), join(top, 'way-in'));
    symlinkSync(join(top, 'nowhere'), join(top, 'house', 'dangling.tif'));
  });
  afterAll(() => rmSync(top, { recursive: true }));

  const onDisk = (reference: string, root = 'house') =>
    confine(reference, {
      files: diskFiles(),
      document: join(top, root, 'a.mission.yaml'),
      root: join(top, root),
      dataFolders: [],
      restricted: false,
    });

  test('links, folders and missing files', async () => {
    expect(await onDisk('world/ground.tif')).toMatchObject({ ok: true });
    expect(await onDisk('world/out.tif')).toMatchObject({ ok: false, reason: expect.stringContaining('by a link') });
    expect(await onDisk('../outside/key.txt')).toMatchObject({
      ok: false,
      reason: expect.stringContaining('leads out'),
    });
    expect(await onDisk('dangling.tif')).toMatchObject({ ok: false, reason: 'does not exist' });
    expect(await onDisk('world/ground.tif/x')).toMatchObject({ ok: false, reason: 'does not exist' });
  });

  test('a root that is reached by a link holds what lies in it', async () => {
    expect(await onDisk('world/ground.tif', 'way-in')).toMatchObject({ ok: true });
  });

  test('reads parts, also past the end, and tells files from folders', async () => {
    const disk = diskFiles();
    const file = join(top, 'house', 'world', 'ground.tif');
    const text = (bytes: Uint8Array | undefined): string => new TextDecoder().decode(bytes);
    expect(text(await disk.readPart?.(file, 3, 4))).toBe('3456');
    expect(text(await disk.readPart?.(file, 8, 10))).toBe('89');
    expect(await disk.stat(file)).toMatchObject({ kind: 'file', size: 10 });
    expect(await disk.stat(join(top, 'house'))).toMatchObject({ kind: 'folder' });
    expect(await disk.stat(join(top, 'nothing'))).toBeUndefined();
    expect(await disk.list(join(top, 'house', 'world'))).toEqual(['ground.tif', 'out.tif']);
    await expect(disk.read(join(top, 'house'))).rejects.toThrow('is a folder');
    await expect(disk.read(join(top, 'nothing'))).rejects.toThrow(/^does not exist$/);
  });

  test.skipIf(process.platform === 'win32')('a device is neither a file nor a folder', async () => {
    await expect(diskFiles().stat('/dev/null')).rejects.toThrow('neither a file nor a folder');
  });
});
