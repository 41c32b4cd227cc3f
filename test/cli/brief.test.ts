import { existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { plain } from '../../server/src/cli/terminal.ts';
import { call, EVENING } from '../support/command-line.ts';
import { withoutEntities } from '../support/markup.ts';
import { NASTY } from '../support/nasty-strings.ts';
import { inProject, readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const FIRST = inProject('samples/first.mission.yaml');
const FAULTS = inProject('samples/missions/many-faults.mission.yaml');

const briefed = async (plan: string, ...more: readonly string[]): Promise<string> => {
  const out = join(temporaryFolder(), 'brief.html');
  const { code, err } = await call(['brief', plan, '--out', out, '--now', EVENING, ...more]);
  expect([code, err]).toEqual([0, '']);
  return readFileSync(out, 'utf8');
};

const refused = async (...words: readonly string[]): Promise<string> => {
  const { code, err } = await call(['brief', ...words]);
  expect(code).toBe(2);
  return err.replace(/^waywarden: /, '').trimEnd();
};

/** What a reader of the page without eyes steps through. */
const outlineOf = (html: string): readonly string[] =>
  [
    ...html.matchAll(/<(h[1-6])[^>]*>([\s\S]*?)<\/\1>|<caption>([^<]*)<\/caption>|<title id[^>]*>([^<]*)<\/title>/g),
  ].map(([, level, heading, caption, picture]) =>
    heading !== undefined ? `${level} ${heading}` : caption !== undefined ? `table ${caption}` : `picture ${picture}`,
  );

/** The page is well-formed, so that its structure can be relied on; the type of document is HTML's own. */
const faultOf = async (html: string): Promise<string> => {
  const contents = html.replace('<!DOCTYPE html>\n', '');
  const { valid, rawOutput } = await validateXML({
    xml: [{ fileName: 'brief.html', contents }],
    normalization: 'format',
  });
  return valid ? '' : rawOutput;
};

describe('the page', () => {
  test('has these parts, in this order, each table and picture with a name', async () => {
    const html = await briefed(FIRST);
    // What is not assessed hangs on the data of the sample; its heading stands in any case.
    const outline = outlineOf(html).filter((part) => part !== 'table Not assessed, and when it can be');
    expect(outline).toEqual([
      'h1 Reed bed, south shore',
      'h2 The flight',
      'table Crew',
      'h2 What was found',
      'h2 Map',
      'picture Map of the flight',
      'h2 Height, route, time and energy',
      'picture Height along the flight',
      'table Route of the flight',
      'h2 If the link fails or the flight is broken off',
      'h2 Weather and daylight',
      'table Weather in the window',
      'h2 What must still be asked for',
      'h2 Margins',
      'table Tightest margins',
      'h2 Accepted and lifted',
      'h2 What was not assessed',
      'h2 Compliance',
      'table Every rule, its state and what that rests on',
      'h2 Data behind it',
    ]);
    expect(html).toContain('<html lang="en">');
    expect(await faultOf(html)).toBe('');
  });

  test('tells the figures of the flight: three heights, course, time, energy, where to break off', async () => {
    const html = withoutEntities((await briefed(FIRST)).replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' '));
    for (const said of [
      'nothing found in',
      'from 2027-06-12 08:30 -07:00 (15:30 UTC)',
      'remote pilot, tested 2026-10-05, seen by office',
      'above take-off 59 m (193.6 ft)',
      'above ground 60 m (196.9 ft)',
      'above sea 470 m (1542 ft)',
      '309° true, 295° magnetic',
      'seen by the pilot all of it',
      'home, 185 m: takes',
      'after 5 s; climbs to 80 m above take-off, or stays higher; then: fly back and land',
      'from 250° true, 3 m/s (5.8 kt), gusts 5 m/s (9.7 kt)',
      'sunrise 05:05; sunset 20:59',
      'lakes.tif',
    ])
      expect(html).toContain(said);
    expect(html).toMatch(/Digest of what was briefed: [0-9a-f]{16}/);
  });

  test('every cell of a table that heads others says which way', async () => {
    const html = await briefed(FAULTS);
    expect([...html.matchAll(/<th(?! scope="(?:col|row)")[ >]/g)]).toEqual([]);
    expect([...html.matchAll(/<th /g)].length).toBeGreaterThan(100);
    expect([...html.matchAll(/<svg /g)].length).toBe([...html.matchAll(/role="img" aria-labelledby="/g)].length);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, names] of html.matchAll(/aria-labelledby="([^"]+)"/g))
      for (const name of (names ?? '').split(' ')) expect(ids).toContain(name);
  });

  test('needs no script and no network', async () => {
    const html = await briefed(FAULTS);
    expect(html).not.toMatch(/<(?:script|link|img|iframe|object|base|form|meta http-equiv)\b/i);
    expect(html).not.toMatch(/<[a-z][^>]*\s(?:src|href|action|on\w+)\s*=/i);
    expect(html).not.toMatch(/@import|url\((?!#)/);
    const addresses = [...html.matchAll(/https?:\/\/[^"'\s<]+/g)].map(([address]) => address);
    expect(new Set(addresses)).toEqual(new Set(['http://www.w3.org/2000/svg']));
  });

  test('calls no flight safe, legal or clear, and says once who decides', async () => {
    const html = await briefed(FIRST);
    expect(html.replace(/<style>[\s\S]*?<\/style>/, '')).not.toMatch(/\b(?:safe|safely|legal|legally|all clear)\b/i);
    expect(html.match(/the licensed remote pilot decide/g)).toHaveLength(1);
  });

  test('names every finding by number in the table, and those with a place on the pictures', async () => {
    const html = await briefed(FAULTS);
    const { out } = await call(['check', FAULTS, '--format', 'json', '--now', EVENING]);
    const { findings, gaps } = JSON.parse(out).plans[0] as {
      findings: { message: string; level: string; rule: string }[];
      gaps: { reason: string }[];
    };
    const text = withoutEntities(html);
    findings.forEach(({ message, level, rule }, i) => {
      expect(text).toContain(`<b>${level} ${i + 1}</b>`);
      expect(text).toContain(plain(message));
      expect(text).toContain(`<code>${rule}</code>`);
    });
    for (const { reason } of gaps) expect(text).toContain(plain(reason));
    expect(html).toMatch(/<text [^>]*>stop \d+<\/text>/);
  });

  test('is the same from the same', async () => {
    expect(await briefed(FAULTS)).toBe(await briefed(FAULTS));
  });

  test.each(['barn-roof', 'ferry-film', 'goggles-evening', 'over-the-gap', 'reed-photos', 'shore-search', 'weir-eu'])(
    'of %s is well-formed and holds no number that is none',
    async (name) => {
      const html = await briefed(inProject(`samples/missions/${name}.mission.yaml`));
      expect(await faultOf(html)).toBe('');
      expect(html.replace(/<style>[\s\S]*?<\/style>/, '')).not.toMatch(/NaN|Infinity|undefined|\[object/);
    },
  );
});

describe('a plan that is hardly one', () => {
  test.each([
    ['nothing at all', ''],
    ['binary', '\u0000\u0001\u0002'],
    ['a broken line', 'mission: 1\ntitle: "open\nroute: ['],
    ['a route without positions', 'mission: 1\nroute:\n  - take-off: a\n  - point: b\n  - land: a\n'],
  ])('%s still gives a page that says what was found', async (_, text) => {
    const plan = join(temporaryFolder(), 'a.mission.yaml');
    writeFileSync(plan, text);
    const html = await briefed(plan);
    expect(await faultOf(html)).toBe('');
    expect(html).toMatch(/<b>stop 1<\/b>/);
    expect(html).toContain('No map: no position of the route is known.');
  });

  test('nasty texts stay texts', async () => {
    const folder = temporaryFolder();
    const plan = join(folder, 'a.mission.yaml');
    for (const text of Object.values(NASTY)) {
      const quoted = JSON.stringify(text).replace(/[\ud800-\udfff]/g, '?');
      writeFileSync(
        plan,
        readProject('samples/first.mission.yaml')
          .replace('Reed bed, south shore', () => quoted)
          .replace('point: reed-west', () => `point: ${quoted}`)
          .replace('held: remote pilot', () => `held: ${quoted}`),
      );
      const html = await briefed(plan);
      expect(await faultOf(html)).toBe('');
      expect(html).not.toMatch(/<(?:script|img|iframe)\b|<[a-z][^>]*\son\w+=/i);
      expect(html.replace(/<style>[\s\S]*?<\/style>/, '')).not.toMatch(
        /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e]/,
      );
    }
  });
});

describe('contacts', () => {
  const contacts = (text: string): string => {
    const file = join(temporaryFolder(), 'contacts.yaml');
    writeFileSync(file, text);
    return file;
  };

  test('come from a file of their own and stand on the page', async () => {
    const html = await briefed(
      FIRST,
      '--with',
      contacts('tower: radio 118.1\nwardens:\n  day: 555-0100\n  night: <b>555-0101</b>\n'),
    );
    expect(outlineOf(html)).toContain('table Contacts');
    expect(html).toContain('<th scope="row">wardens, night</th><td>&lt;b&gt;555-0101&lt;/b&gt;</td>');
  });

  test('a file in a repository is refused, also by way of a link, and none of it is told', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, '.git'));
    const file = join(folder, 'contacts.yaml');
    writeFileSync(file, 'tower: 555-0100\n');
    const out = join(temporaryFolder(), 'brief.html');
    const said = await refused(FIRST, '--out', out, '--with', file);
    expect(said).toContain('lies in the repository');
    expect(said).not.toContain('555');
    const link = join(temporaryFolder(), 'link.yaml');
    symlinkSync(file, link);
    expect(await refused(FIRST, '--out', out, '--with', link)).toContain('lies in the repository');
    expect(existsSync(out)).toBe(false);
  });

  test.each([
    ['a list', '- a\n- b\n'],
    ['a broken line', 'tower: "555'],
    ['nothing', ''],
  ])('%s is refused without telling what stands in it', async (_, text) => {
    const said = await refused(FIRST, '--out', join(temporaryFolder(), 'b.html'), '--with', contacts(text));
    expect(said).toContain('is no plain list of roles');
    expect(said).not.toMatch(/"555/);
  });

  test('a file that is not there is told', async () => {
    expect(await refused(FIRST, '--out', 'b.html', '--with', 'gone.yaml')).toBe(
      '--with "gone.yaml" cannot be read: there is no such file or folder',
    );
  });
});

describe('usage', () => {
  test.each([
    [[], 'brief takes one plan'],
    [['a', 'b'], 'brief takes one plan'],
    [['a'], 'brief needs a file to write: --out brief.html'],
    [['a', '--out', './a'], '--out names the plan itself'],
    [['a', '--out', 'c', '--with', 'c'], '--out names the contacts themselves'],
    [['gone', '--out', 'b.html'], '"gone" cannot be opened: there is no such file or folder'],
    [['a', '--gate', 'stop'], 'there is no flag "--gate" here; see waywarden --help'],
  ])('%j', async (words, said) => {
    expect(await refused(...words)).toBe(said);
  });

  test('a page that cannot be written is told', async () => {
    expect(await refused(FIRST, '--out', join(temporaryFolder(), 'no', 'b.html'))).toContain('could not be written');
  });
});
