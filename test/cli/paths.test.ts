import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { call, EVENING } from '../support/command-line.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** A plan that is read, and found wanting in one way: it holds nothing but its format. */
const PLAN = 'mission: 1\ntitle: Nothing yet\n';
const AT = ['--now', EVENING] as const;

/** Which plans and which unopened paths a check of paths reports, without the folder they lie in. */
const seen = async (folder: string, ...paths: readonly string[]) => {
  const words = ['check', ...AT, '--format', 'json', ...paths.map((path) => join(folder, path))];
  const { code, out } = await call(words);
  const { plans, unopened } = JSON.parse(out) as {
    plans: { path: string }[];
    unopened: { path: string; reason: string }[];
  };
  const own = (path: string): string => path.slice(folder.length + 1);
  return {
    code,
    plans: plans.map(({ path }) => own(path)),
    unopened: unopened.map(({ path, reason }) => `${own(path)}: ${reason}`),
  };
};

describe('a folder', () => {
  test('yields the plans below it by name, in order, and nothing else', async () => {
    const folder = temporaryFolder({
      'b.mission.yaml': PLAN,
      'a/z.mission.yml': PLAN,
      'a/notes.yaml': PLAN,
      'craft.aircraft.yaml': 'aircraft: 1\n',
      'node_modules/x/c.mission.yaml': PLAN,
      '.git/d.mission.yaml': PLAN,
      'mission.yaml': PLAN,
    });
    expect(await seen(folder, '.')).toEqual({ code: 1, plans: ['a/z.mission.yml', 'b.mission.yaml'], unopened: [] });
  });

  test('that holds no plan is exit code 2 with the reason, unless --allow-empty is given', async () => {
    const folder = temporaryFolder({ 'notes.txt': 'none' });
    const { code, out, err } = await call(['check', folder]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toBe(`waywarden: no plan (*.mission.yaml) was found in "${folder}"; --allow-empty lets that pass\n`);
    const allowed = await call(['check', folder, '--allow-empty']);
    expect(allowed.code).toBe(0);
    expect(allowed.out).toContain('0 plans read');
  });

  test('named like a plan is looked through as a folder', async () => {
    const folder = temporaryFolder({ 'x.mission.yaml/y.mission.yaml': PLAN });
    expect((await seen(folder, '.')).plans).toEqual(['x.mission.yaml/y.mission.yaml']);
    expect((await seen(folder, 'x.mission.yaml')).plans).toEqual(['x.mission.yaml/y.mission.yaml']);
  });
});

describe('a path named outright', () => {
  test('is read whatever its suffix', async () => {
    const folder = temporaryFolder({ 'plan.txt': PLAN, noname: PLAN });
    expect(await seen(folder, 'plan.txt', 'noname')).toEqual({ code: 1, plans: ['plan.txt', 'noname'], unopened: [] });
  });

  test('comes once, although it was named twice and lies in a folder that was named, too', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': PLAN });
    const path = join(folder, 'a.mission.yaml');
    const { out } = await call(['check', ...AT, '--format', 'json', path, `${folder}/./a.mission.yaml`, folder]);
    expect(JSON.parse(out).plans).toHaveLength(1);
  });

  test('that does not exist is exit code 2, after the rest was reported', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': PLAN });
    expect(await seen(folder, 'gone.mission.yaml', 'a.mission.yaml', 'a.mission.yaml/below')).toEqual({
      code: 2,
      plans: ['a.mission.yaml'],
      unopened: [
        'gone.mission.yaml: there is no such file or folder',
        'a.mission.yaml/below: there is no such file or folder',
      ],
    });
  });

  test('may begin with a dash after "--"', async () => {
    const { code, out } = await call(['check', '--', '-gone.mission.yaml']);
    expect(code).toBe(2);
    expect(out).toContain('not opened -gone.mission.yaml: there is no such file or folder');
  });
});

describe('a file of another kind that is named outright', () => {
  test('is not judged as a plan; the reason says where it is judged', async () => {
    const folder = temporaryFolder({
      'a.mission.yaml': PLAN,
      'craft.aircraft.yaml': 'aircraft: 1\n',
      'waywarden.settings.yaml': 'settings: 1\n',
    });
    expect(await seen(folder, 'a.mission.yaml', 'craft.aircraft.yaml', 'waywarden.settings.yaml')).toEqual({
      code: 2,
      plans: ['a.mission.yaml'],
      unopened: [
        'craft.aircraft.yaml: it is an aircraft file; it is judged with each plan that names it',
        'waywarden.settings.yaml: it holds settings; they are judged with each plan below them',
      ],
    });
  });
});

describe('links', () => {
  test('that lead nowhere are told as such, named outright or found in a folder', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': PLAN });
    symlinkSync('gone', join(folder, 'dangling.mission.yaml'));
    const expected = ['dangling.mission.yaml: it is a link that leads nowhere'];
    expect(await seen(folder, '.')).toEqual({ code: 2, plans: ['a.mission.yaml'], unopened: expected });
    expect(await seen(folder, 'dangling.mission.yaml')).toEqual({ code: 2, plans: [], unopened: expected });
  });

  test('that lead back to themselves are told as such', async () => {
    const folder = temporaryFolder();
    symlinkSync('loop.mission.yaml', join(folder, 'loop.mission.yaml'));
    expect((await seen(folder, '.')).unopened).toEqual(['loop.mission.yaml: it is a link that leads back to itself']);
  });

  test('to folders are not followed, so that a loop of folders ends', async () => {
    const folder = temporaryFolder({ 'a/b.mission.yaml': PLAN });
    symlinkSync('..', join(folder, 'a', 'up'));
    expect((await seen(folder, '.')).plans).toEqual(['a/b.mission.yaml']);
    symlinkSync('..', join(folder, 'a', 'up.mission.yaml'));
    expect(await seen(folder, '.')).toEqual({
      code: 2,
      plans: ['a/b.mission.yaml'],
      unopened: ['a/up.mission.yaml: it is a link to a folder, which is not followed'],
    });
  });

  test('to a plan are read', async () => {
    const folder = temporaryFolder({ 'store/a.txt': PLAN });
    symlinkSync('store/a.txt', join(folder, 'a.mission.yaml'));
    expect(await seen(folder, '.')).toEqual({ code: 1, plans: ['a.mission.yaml'], unopened: [] });
  });
});

describe('what is no readable file', () => {
  test('may not be read by this user (skipped for the superuser, who may read everything)', async (ctx) => {
    if (process.getuid?.() === 0 || process.platform === 'win32') ctx.skip('this user may read everything');
    const folder = temporaryFolder({ 'a.mission.yaml': PLAN, 'locked/b.mission.yaml': PLAN });
    chmodSync(join(folder, 'a.mission.yaml'), 0);
    chmodSync(join(folder, 'locked'), 0);
    const found = await seen(folder, '.');
    chmodSync(join(folder, 'locked'), 0o700);
    expect(found).toEqual({
      code: 2,
      plans: [],
      unopened: ['locked: it may not be read by this user', 'a.mission.yaml: it may not be read by this user'],
    });
  });

  test('a pipe with the name of a plan does not make the check wait for ever', async (ctx) => {
    const folder = temporaryFolder();
    const path = join(folder, 'pipe.mission.yaml');
    if (spawnSync('mkfifo', [path]).status !== 0) ctx.skip('this system has no mkfifo');
    const expected = { code: 2, plans: [], unopened: ['pipe.mission.yaml: it is neither a file nor a folder'] };
    expect(await seen(folder, '.')).toEqual(expected);
    expect(await seen(folder, 'pipe.mission.yaml')).toEqual(expected);
  });
});

describe('text that can be opened is never exit code 2', () => {
  test.each<readonly [string, string | Uint8Array]>([
    ['a binary', new Uint8Array([0x7f, 0x45, 0x4c, 0x46, 0, 0, 0xff, 0xfe, 1, 2, 3])],
    ['an empty file', ''],
    ['a tab', '\tmission: 1\n'],
    ['an unclosed quote', 'mission: 1\ntitle: "open\nroute:\n  - take-off: home\n'],
    ['10,000 brackets', '['.repeat(10_000)],
    ['40,000 keys', Array.from({ length: 40_000 }, (_, i) => `key${i}: ${i}\n`).join('')],
    ['a megabyte of one line', `title: ${'x'.repeat(1_100_000)}\n`],
  ])('%s is a stop finding', async (_name, content) => {
    const folder = temporaryFolder({ 'a.mission.yaml': content });
    const { code, out } = await call(['check', ...AT, '--format', 'json', join(folder, 'a.mission.yaml')]);
    expect(code).toBe(1);
    const [plan] = JSON.parse(out).plans;
    expect(plan.worst).toBe('stop');
    expect(plan.gaps.filter((gap: { kind: string }) => gap.kind === 'fault')).toEqual([]);
  });
});

describe('data folders', () => {
  test('that were named and are not there are exit code 2', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': PLAN });
    const { code, err } = await call(['check', folder, '--data', join(folder, 'gone')]);
    expect(code).toBe(2);
    expect(err).toBe(`waywarden: --data "${join(folder, 'gone')}" is no folder\n`);
  });

  test('are granted by the flag and by the environment, and by nothing else', async () => {
    const folder = temporaryFolder({ '.git/HEAD': '' });
    const data = temporaryFolder({ 'zones.geojson': '{"type":"FeatureCollection","features":[]}' });
    mkdirSync(join(folder, 'plans'));
    const plan = join(folder, 'plans', 'a.mission.yaml');
    writeFileSync(plan, 'mission: 1\ntitle: far data\nairspace: ["data:zones.geojson"]\n');
    const refused = 'names a data folder, and none is granted on this machine';
    expect((await call(['check', plan])).out).toContain(refused);
    expect((await call(['check', plan, '--data', data])).out).not.toContain(refused);
    expect((await call(['check', plan], { environment: { WAYWARDEN_DATA: data } })).out).not.toContain(refused);
  });
});
