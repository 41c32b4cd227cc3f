import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { JsonReport } from '../../server/src/cli/formats/json.ts';
import { prepare } from '../../server/src/host/prepare.ts';
import { CAUTION } from '../../server/src/review/tell.ts';
import { call, EVENING } from '../support/command-line.ts';
import { readProject } from '../support/project.ts';
import { styleFaults } from '../support/style.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const FIRST = 'samples/first.mission.yaml';
const GAP = 'samples/missions/over-the-gap.mission.yaml';
const FAULTS = 'samples/missions/many-faults.mission.yaml';
const AT = ['--now', EVENING] as const;

/** The first sample without what lies beside it: enough of a plan to find and open. */
const LONE = readProject(FIRST);

describe('the exit code', () => {
  test('is 0 where nothing is at or above the gate', async () => {
    expect(await call(['check', ...AT, FIRST])).toMatchObject({ code: 0, err: '' });
  });

  test('is 1 where something is', async () => {
    expect(await call(['check', ...AT, GAP])).toMatchObject({ code: 1, err: '' });
  });

  test('is 2 where a path cannot be opened, which beats 1, and the rest is reported first', async () => {
    const { code, out } = await call(['check', ...AT, 'samples/gone.mission.yaml', GAP]);
    expect(code).toBe(2);
    expect(out).toContain('leg-above-height-limit');
    expect(out).toContain('not opened samples/gone.mission.yaml: there is no such file or folder');
    expect(out).toContain('the check could not be completed');
  });

  test('is 1 where data are missing: a gap counts at the level of its rule', async () => {
    const input = LONE.replace(/^terrain:.*\n/m, '');
    const { code, out } = await call(['check', ...AT, '-', '--name', 'samples/b.mission.yaml'], { input });
    expect(code).toBe(1);
    expect(out).toContain('not assessed');
  });

  test('is 2 where a plan makes the program fail, and the other plans are still judged', async () => {
    const failing: typeof prepare = (text, document, ...rest) => {
      if (document.endsWith('over-the-gap.mission.yaml')) throw new Error('a wheel came off');
      return prepare(text, document, ...rest);
    };
    const { code, out } = await call(['check', ...AT, GAP, FIRST], { prepare: failing });
    expect(code).toBe(2);
    expect(out).toContain('a fault of this program, please report it: a wheel came off');
    expect(out).toContain('Reed bed, south shore');
  });

  test('leaves a plan that was flown outside the gate', async () => {
    const text = readProject(GAP).replaceAll('2027-06-12', '2027-06-11');
    const words = ['check', '--now', '2027-07-01T12:00Z', '-', '--name', 'samples/missions/flown.mission.yaml'];
    expect((await call(words, { input: text })).code).toBe(1);
    const flown = await call(words, { input: `${text}flown: 2027-06-11\n` });
    expect(flown.code).toBe(0);
    expect(flown.out).toContain('judged as of the day it was flown');
    expect(flown.out).toContain('leg-above-height-limit');
  });
});

describe('the gate', () => {
  const caution = LONE.replace('reed-west\n', 'reed-east\n');
  const words = ['check', ...AT, '-', '--name', 'samples/c.mission.yaml'];

  test('is stop unless told otherwise, so that a caution passes', async () => {
    const { code, out } = await call(words, { input: caution });
    expect(out).toContain('name-repeated');
    expect(code).toBe(0);
  });

  test.each(['caution', 'note'])('set to %s stops a caution', async (gate) => {
    expect((await call([...words, '--gate', gate], { input: caution })).code).toBe(1);
  });

  test('stands in the last lines', async () => {
    const { out } = await call([...words, '--gate', 'caution'], { input: caution });
    expect(out).toContain('gate caution: something at or above the gate');
  });
});

describe('standard input', () => {
  test('is read for "-", and references count from the name that is given', async () => {
    const { code, out } = await call(['check', ...AT, '-', '--name', 'samples/x.mission.yaml'], { input: LONE });
    expect(out).toContain('samples/x.mission.yaml  Reed bed, south shore');
    expect(code).toBe(0);
  });

  test('has a name of its own without one', async () => {
    const { out } = await call(['check', ...AT, '-'], { input: LONE });
    expect(out).toContain('standard-input.mission.yaml');
  });

  test('may come together with paths', async () => {
    const { out } = await call(['check', ...AT, '-', FIRST, '--name', 'samples/x.mission.yaml'], { input: LONE });
    expect(out).toContain('2 plans read');
  });

  test('that is empty is a finding, not a failure', async () => {
    const { code, out } = await call(['check', ...AT, '-'], { input: '' });
    expect(code).toBe(1);
    expect(out).toMatch(/stop {2}key-missing/);
  });

  test('cannot be named without being read', async () => {
    const { code, err } = await call(['check', FIRST, '--name', 'x']);
    expect(code).toBe(2);
    expect(err).toContain('--name names the plan on standard input');
  });
});

describe('reports', () => {
  test('several go out at once: one to standard output, the others to files', async () => {
    const folder = temporaryFolder();
    const { code, out } = await call([
      'check',
      ...AT,
      '--format',
      'text',
      '--format',
      `json=${folder}/report.json`,
      `--format=text=${folder}/report.txt`,
      GAP,
    ]);
    expect(code).toBe(1);
    expect(readFileSync(`${folder}/report.txt`, 'utf8')).toBe(out);
    const json = JSON.parse(readFileSync(`${folder}/report.json`, 'utf8')) as JsonReport;
    expect(json.plans.map(({ path }) => path)).toEqual([GAP]);
  });

  test('one that cannot be written is told with exit code 2, and the others are not lost', async () => {
    const folder = temporaryFolder();
    const { code, out, err } = await call([
      'check',
      ...AT,
      '--format',
      `json=${folder}/no/r.json`,
      '--format',
      'text',
      FIRST,
    ]);
    expect(code).toBe(2);
    expect(err).toBe(
      `waywarden: the report could not be written to "${folder}/no/r.json": there is no such file or folder\n`,
    );
    expect(out).toContain('nothing found');
  });

  test('a file alone leaves standard output empty', async () => {
    const folder = temporaryFolder();
    const { out } = await call(['check', ...AT, '--format', `text=${folder}/r.txt`, FIRST]);
    expect(out).toBe('');
  });

  test('the same input gives the same bytes', async () => {
    for (const format of ['text', 'json']) {
      const [one, other] = [
        await call(['check', ...AT, '--format', format, 'samples']),
        await call(['check', ...AT, '--format', format, 'samples']),
      ];
      expect(one.out).toBe(other.out);
      expect(one.out.length).toBeGreaterThan(1000);
    }
  });

  test('the text advises, says so once, and calls nothing safe, legal or clear', async () => {
    const { out } = await call(['check', ...AT, 'samples']);
    expect(out.split(CAUTION).length - 1).toBe(1);
    const faults = out.split('\n').flatMap((line) => styleFaults(line).filter((fault) => fault.includes('safe')));
    expect(faults).toEqual([]);
  });

  test('the text tells each rule and each reason once, with places below it', async () => {
    const { out } = await call(['check', ...AT, FAULTS]);
    const headings = out.split('\n').filter((line) => /^ {2}(stop|caution|note) {2}/.test(line));
    expect(new Set(headings).size).toBe(headings.length);
    expect(headings.length).toBeGreaterThan(15);
    expect(out.split('the altitude of bare is missing').length - 1).toBe(1);
  });

  test('the text names places in other files', async () => {
    const { out } = await call(['check', ...AT, FAULTS]);
    expect(out).toContain('samples/fleet/dipper-2.aircraft.yaml:16:46  it ends here');
  });

  test('the summary tells what was assessed in part only', async () => {
    const { out } = await call(['check', ...AT, FAULTS]);
    expect(out).toMatch(/18 stops, 5 cautions, 1 note in \d+ checks; \d+ not assessed, \d+ assessed in part only/);
  });

  test('a plan of which the rule set is not known says how many rules wait for it', async () => {
    const input = LONE.replace(/^purpose:.*\n/m, '');
    const { out } = await call(['check', ...AT, '-', '--name', 'samples/d.mission.yaml'], { input });
    expect(out).toMatch(/\d+ more rules wait until the rule set is known/);
  });
});

describe('colours', () => {
  const ESCAPE = '\u001b[';

  test('are put on where the terminal wants them, with the level in words all the same', async () => {
    const { out } = await call(['check', ...AT, GAP], { coloured: true });
    expect(out).toContain(`${ESCAPE}31mstop${ESCAPE}39m`);
  });

  test('never go into a file or into JSON', async () => {
    const folder = temporaryFolder();
    await call(['check', ...AT, '--format', `text=${folder}/r.txt`, GAP], { coloured: true });
    expect(readFileSync(`${folder}/r.txt`, 'utf8')).not.toContain(ESCAPE);
    expect((await call(['check', ...AT, '--format', 'json', GAP], { coloured: true })).out).not.toContain(ESCAPE);
  });
});

describe('text of a plan', () => {
  test.each([
    ['\\u001b[2J\\u001b[31mgone', '\\u{1b}[2J\\u{1b}[31mgone'],
    ['a\\u202eb', 'a\\u{202e}b'],
    ['a\\u009b31m', 'a\\u{9b}31m'],
    ['a\\rb', 'a\\u{d}b'],
    ['a\\nb', 'a\\u{a}b'],
    ['zero\\u200bwidth', 'zero\\u{200b}width'],
  ])('%s in a name reaches the terminal as an escape', async (written, shown) => {
    const input = LONE.replaceAll('reed-west', `"${written}"`)
      .replace('title: Reed bed, south shore', `title: "${written}"`)
      .replaceAll('60 m AGL', '500 ft AGL');
    const { out } = await call(['check', ...AT, '-', '--name', 'samples/e.mission.yaml'], { input });
    expect(out).toContain(`samples/e.mission.yaml  ${shown}`);
    expect(out).toContain(`${shown} is 152.4 m above ground`);
    expect(out.replaceAll('\n', '')).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u200b\u202a-\u202e]/);
  });
});
