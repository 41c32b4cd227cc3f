import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { callProcess, callShell, EVENING, isBuilt } from '../support/command-line.ts';
import { makeGeoTiff } from '../support/make-raster.ts';
import { inProject, readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const AT = ['--now', EVENING] as const;
const FIRST = 'samples/first.mission.yaml';
const GAP = 'samples/missions/over-the-gap.mission.yaml';
const { version } = JSON.parse(readProject('package.json')) as { version: string };

/** The program as people start it. All of this is skipped where it is not built; `npm test` builds it first. */
describe.skipIf(!isBuilt)('the built command line, skipped where it is not built', () => {
  test('ends with 0, 1 or 2', () => {
    expect(callProcess(['check', ...AT, FIRST])).toMatchObject({ code: 0, err: '' });
    expect(callProcess(['check', ...AT, GAP])).toMatchObject({ code: 1, err: '' });
    expect(callProcess(['check', ...AT, GAP, 'samples/gone.mission.yaml'])).toMatchObject({ code: 2, err: '' });
    expect(callProcess(['check', '--no-such-flag'])).toMatchObject({ code: 2, out: '' });
  });

  test.each([
    [27700, 530_000, 180_000, '51.5044, -0.1278'],
    [2056, 2_600_000, 1_200_000, '46.9511, 7.4386'],
    [28992, 155_000, 463_000, '52.1552, 5.3872'],
    [3035, 4_321_000, 3_210_000, '52, 10'],
    [2154, 700_000, 6_600_000, '46.5, 3'],
    [5070, 0, 1_606_786, '37.5, -96'],
    [25833, 500_000, 5_300_000, '47.8534, 15'],
  ])('reads a raster in EPSG:%i, with only those projections bundled that are needed', (epsg, x, y, at) => {
    const folder = temporaryFolder({
      'ground.tif': makeGeoTiff({
        columns: 41,
        rows: 41,
        x: x - 2000,
        y: y + 2000,
        stepX: 100,
        stepDown: 100,
        epsg,
        value: () => 321,
      }),
      'a.mission.yaml': `mission: 1\ntitle: a\npurpose: b\ncountry: FR\nterrain: ground.tif\nroute:\n  - take-off: home\n    at: ${at}\n    elevation: 900 m\n  - land: home\n`,
    });
    const { out } = callProcess(['check', '--now', '2027-01-01T10:00Z', join(folder, 'a.mission.yaml')]);
    expect(out).toContain('but the ground there is 321 m above mean sea level');
  });

  test('tells its version', () => {
    expect(callProcess(['--version'])).toEqual({ code: 0, out: `${version}\n`, err: '' });
  });

  test('reads standard input', () => {
    const words = ['check', ...AT, '-', '--name', 'samples/piped.mission.yaml'];
    const { code, out } = callProcess(words, { input: readProject(FIRST) });
    expect(out).toContain('samples/piped.mission.yaml  Reed bed, south shore');
    expect(code).toBe(0);
  });

  test('reads standard input in UTF-16 with a byte order mark', () => {
    const input = Buffer.from(`\ufeff${readProject(FIRST)}`, 'utf16le');
    const { code } = callProcess(['check', ...AT, '-', '--name', 'samples/piped.mission.yaml'], { input });
    expect(code).toBe(0);
  });

  test('checks the working folder where no path is given', () => {
    const { out } = callProcess(['check', ...AT], { folder: inProject('samples') });
    expect(out).toContain('first.mission.yaml  Reed bed, south shore');
    expect(out).toContain('missions/weir-eu.mission.yaml  Weir and fish pass');
  });

  test('takes the machine’s clock where no time is given', () => {
    const folder = temporaryFolder({
      'a.mission.yaml': 'mission: 1\ntitle: old\nwindow: { from: 2001-01-01 10:00 Z, until: 2001-01-01 11:00 Z }\n',
    });
    expect(callProcess(['check', join(folder, 'a.mission.yaml')]).out).toContain('window-over');
    expect(callProcess(['check', '--now', '2000-12-31T10:00Z', folder]).out).not.toContain('window-over');
  });

  test('writes several formats, and the same bytes twice', () => {
    const folder = temporaryFolder();
    const words = ['check', ...AT, '--format', `json=${folder}/a.json`, '--format', 'text', 'samples'];
    const one = callProcess(words);
    const first = readFileSync(join(folder, 'a.json'), 'utf8');
    const other = callProcess(words);
    expect(other.out).toBe(one.out);
    expect(readFileSync(join(folder, 'a.json'), 'utf8')).toBe(first);
    expect(JSON.parse(first).plans.length).toBeGreaterThan(6);
    expect(one.err).toBe('');
  });

  test('is plain in a pipe, coloured by FORCE_COLOR, and plain by NO_COLOR whatever else is set', () => {
    const sequence = '\u001b[';
    const coloured = (environment: Record<string, string>): boolean =>
      callProcess(['check', ...AT, GAP], { environment }).out.includes(sequence);
    expect(coloured({})).toBe(false);
    expect(coloured({ FORCE_COLOR: '1' })).toBe(true);
    expect(coloured({ FORCE_COLOR: '0' })).toBe(false);
    expect(coloured({ NO_COLOR: '1', FORCE_COLOR: '1' })).toBe(false);
    expect(coloured({ NO_COLOR: '', FORCE_COLOR: '1' })).toBe(true);
  });

  test.skipIf(process.platform === 'win32')(
    'survives a reader that leaves, and keeps its exit code (needs bash)',
    () => {
      const text = callShell(`waywarden check --now ${EVENING} samples | head -1; exit \${PIPESTATUS[0]}`);
      expect(text).toMatchObject({ code: 1, err: '' });
      expect(text.out.trimEnd().split('\n')).toHaveLength(1);
      const rules = callShell(`waywarden rules --format json | head -c 10; exit \${PIPESTATUS[0]}`);
      expect(rules).toMatchObject({ code: 0, err: '' });
      const gone = callShell(`waywarden check --now ${EVENING} --format json samples | true; exit \${PIPESTATUS[0]}`);
      expect(gone).toMatchObject({ code: 1, err: '' });
    },
  );

  test.skipIf(process.platform === 'win32')('loses nothing through a pipe (needs bash)', () => {
    const { out } = callShell(`waywarden check --now ${EVENING} --format json samples | cat`);
    expect(out).toBe(callProcess(['check', ...AT, '--format', 'json', 'samples']).out);
  });

  test('does not break on a bomb of brackets, which would end the process uncaught', () => {
    const { code, out } = callProcess(['check', ...AT, '-', '--format', 'json'], { input: '['.repeat(100_000) });
    expect(code).toBe(1);
    expect(JSON.parse(out).plans[0].worst).toBe('stop');
  });
});
