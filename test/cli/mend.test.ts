import { readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { call } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const FIRST = readProject('samples/first.mission.yaml');
/** A key and a word that are misspelt: both have one mend, and neither changes the flight. */
const SLIPS = FIRST.replace('purpose:', 'purpos:').replace('then: fly back and land', 'than: fly back and land');

describe('mending from the command line', () => {
  test('makes the mends that leave the flight as it is, and nothing else', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': SLIPS, 'notes.txt': 'purpos' });
    const { code, out, err } = await call(['mend', folder]);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(readFileSync(join(folder, 'a.mission.yaml'), 'utf8')).toBe(FIRST);
    expect(readFileSync(join(folder, 'notes.txt'), 'utf8')).toBe('purpos');
    expect(out).toContain('mended: ');
    expect(out).toContain('2 mends that leave the flight as it is');
  });

  test('changes nothing the second time', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': SLIPS });
    await call(['mend', folder]);
    const { out } = await call(['mend', folder]);
    expect(out).toBe('0 mends that leave the flight as it is\n');
  });

  test('only tells with --dry-run', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': SLIPS });
    const { out } = await call(['mend', '--dry-run', folder]);
    expect(out).toContain('would mend: ');
    expect(readFileSync(join(folder, 'a.mission.yaml'), 'utf8')).toBe(SLIPS);
  });

  test('does not choose for the pilot: a bare number stays', async () => {
    const text = FIRST.replace('altitude: 60 m AGL', 'altitude: 60');
    const folder = temporaryFolder({ 'a.mission.yaml': text });
    await call(['mend', folder]);
    expect(readFileSync(join(folder, 'a.mission.yaml'), 'utf8')).toBe(text);
  });

  test('does not write through a link', async () => {
    const elsewhere = temporaryFolder({ 'b.mission.yaml': SLIPS });
    const folder = temporaryFolder();
    symlinkSync(join(elsewhere, 'b.mission.yaml'), join(folder, 'a.mission.yaml'));
    const { code, err } = await call(['mend', join(folder, 'a.mission.yaml')]);
    expect(code).toBe(2);
    expect(err).toContain('it is a link');
    expect(readFileSync(join(elsewhere, 'b.mission.yaml'), 'utf8')).toBe(SLIPS);
  });

  test('leaves a file alone that it could not write back byte for byte', async () => {
    const folder = temporaryFolder();
    const bytes = Buffer.concat([Buffer.from(SLIPS.replace('Reed bed', 'Reed b')), Buffer.from('# \xff\n', 'latin1')]);
    writeFileSync(join(folder, 'a.mission.yaml'), bytes);
    const { code, err } = await call(['mend', folder]);
    expect(readFileSync(join(folder, 'a.mission.yaml')).equals(bytes)).toBe(true);
    expect(code).toBe(2);
    expect(err).toContain('not plain UTF-8');
  });

  test('keeps line ends and what stands around', async () => {
    const folder = temporaryFolder({ 'a.mission.yaml': SLIPS.replaceAll('\n', '\r\n') });
    await call(['mend', folder]);
    expect(readFileSync(join(folder, 'a.mission.yaml'), 'utf8')).toBe(FIRST.replaceAll('\n', '\r\n'));
  });

  test.each([
    [['mend', 'no-such-folder'], 'no such file'],
    [['mend', '--fast'], 'no flag'],
  ])('%j ends with 2', async (words, why) => {
    const { code, err } = await call(words);
    expect(code).toBe(2);
    expect(err).toContain(why);
  });
});
