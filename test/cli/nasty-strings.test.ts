import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { FORMATS } from '../../server/src/cli/arguments.ts';
import { hosted, hostedHtml } from '../../server/src/cli/formats/hosted-markdown.ts';
import { jsonLine, jsonText } from '../../server/src/cli/formats/json.ts';
import { sarifText } from '../../server/src/cli/formats/sarif-text.ts';
import { workflowCommand } from '../../server/src/cli/formats/workflow-command.ts';
import { xmlLine } from '../../server/src/cli/formats/xml.ts';
import { uriOf } from '../../server/src/cli/hosted-path.ts';
import { plain } from '../../server/src/cli/terminal.ts';
import { call, EVENING } from '../support/command-line.ts';
import { cellsOf, renderedMarkdown, tagsOf, withoutEntities } from '../support/markup.ts';
import { NASTY } from '../support/nasty-strings.ts';
import { readProject } from '../support/project.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const CORPUS = Object.entries(NASTY);
const LONE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;
/** What a terminal, or an eye, could be deceived by. */
const HIDDEN =
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/;

/** Undoes what each sink does, as its reader would; what comes out is the text with its hidden parts made visible. */
describe('the escape of each sink', () => {
  test.each(CORPUS)('for a terminal: %s', (_, text) => {
    const escaped = plain(text);
    expect(escaped).not.toMatch(HIDDEN);
    expect(escaped).not.toMatch(LONE);
    expect(escaped).not.toContain('\n');
  });

  test.each(CORPUS)('for JSON: %s', (_, text) => {
    for (const escaped of [jsonText({ text }), jsonLine({ text })]) {
      expect(escaped).not.toMatch(HIDDEN);
      expect(escaped).not.toMatch(LONE);
      expect(JSON.parse(escaped)).toEqual({ text });
    }
    expect(jsonLine({ text })).not.toContain('\n');
  });

  test.each(CORPUS)('for XML: %s', (_, text) => {
    const escaped = xmlLine(text);
    expect(escaped).not.toMatch(/[<>"'\n]|\]\]>/);
    expect(escaped).not.toMatch(HIDDEN);
    expect(escaped).not.toMatch(LONE);
    expect(withoutEntities(escaped).replaceAll('\\u{fffe}', '\ufffe').replaceAll('\\u{ffff}', '\uffff')).toBe(
      plain(text),
    );
  });

  test.each(CORPUS)('for a command of a workflow: %s', (_, text) => {
    const line = workflowCommand('error', { file: text, line: 1 }, text);
    expect(line).not.toMatch(/[\r\n]/);
    expect(line).not.toMatch(HIDDEN);
    expect(line).not.toContain('##[');
    // The runner takes what lies between the first and the next "::" for the command and its properties.
    const [, command = '', ...data] = line.split('::');
    expect(data).toHaveLength(1);
    const properties = command.slice('error '.length).split(',');
    expect(properties).toHaveLength(2);
    expect(properties[1]).toBe('line=1');
    const file = (properties[0] ?? '').slice('file='.length);
    const read = file.replaceAll('%3A', ':').replaceAll('%2C', ',').replaceAll('%25', '%');
    expect(read.replaceAll('# #[', '##[')).toBe(plain(text));
  });

  test.each(CORPUS)('for a page of a platform, in the cell of a table: %s', (_, text) => {
    const html = renderedMarkdown(`| a | b |\n| --- | --- |\n| x ${hosted(text)} | y |\n`);
    expect(tagsOf(html)).toEqual([
      '/table',
      '/tbody',
      '/td',
      '/th',
      '/thead',
      '/tr',
      'table',
      'tbody',
      'td',
      'th',
      'thead',
      'tr',
    ]);
    const [cell = '', next] = cellsOf(html);
    expect(next).toBe('y');
    expect(cell.replaceAll('\u200b', '')).toBe(`x ${shown(text)}`.trimEnd());
    expect(cell).not.toMatch(/[@#!~%&$](?=[\p{L}\p{N}])|gh-\d|:(?:[a-z_+-][\w+-]*|100|1234):/iu);
  });

  test.each(CORPUS)('for a page of a platform, in a heading of a fold: %s', (_, text) => {
    const html = renderedMarkdown(`<details>\n<summary>${hostedHtml(text)}</summary>\n\ninside\n\n</details>\n`);
    expect(tagsOf(html)).toEqual(['/details', '/p', '/summary', 'details', 'p', 'summary']);
    const summary = /<summary>([\s\S]*?)<\/summary>/.exec(html)?.[1] ?? '';
    expect(withoutEntities(summary).replaceAll('\u200b', '')).toBe(shown(text));
    expect(withoutEntities(summary)).not.toMatch(/[@#!~%&$](?=[\p{L}\p{N}])|gh-\d|:(?:[a-z_+-][\w+-]*|100|1234):/iu);
  });

  test.each(CORPUS)('for a message of SARIF: %s', (_, text) => {
    const escaped = sarifText(text);
    expect(escaped).not.toMatch(HIDDEN);
    // Section 3.11.6: an unescaped bracket begins a link; section 3.11.5: a brace that is not doubled, a placeholder.
    expect(escaped.replace(/\\[\\[\]]/g, '')).not.toMatch(/[[\]]/);
    expect(escaped.replaceAll('{{', '').replaceAll('}}', '')).not.toMatch(/[{}]/);
    const read = escaped
      .replace(/\\([\\[\]])/g, '$1')
      .replaceAll('{{', '{')
      .replaceAll('}}', '}');
    expect(read).toBe(plain(text));
  });

  test.each(CORPUS)('for an address: %s', (_, text) => {
    const uri = uriOf(`a/${text}`);
    expect(uri).toMatch(/^(?:[A-Za-z0-9\-._~!$&'()*+,;=:@/]|%[0-9A-F]{2})+$/);
    const read = decodeURIComponent(uri);
    expect(read).toBe(`a/${text}`.replace(new RegExp(LONE, 'g'), '\ufffd'));
  });
});

/** As much of a text as a page shows of it. */
const shown = (text: string): string =>
  plain(text.length <= 400 ? text : `${text.slice(0, 400)}… (${text.length - 400} characters more)`);

/** One plan for each text: as its title, as the name of a point, as a reason, and in the names of two files. */
const planWith = (text: string): string =>
  readProject('samples/first.mission.yaml')
    .replace('Reed bed, south shore', () => JSON.stringify(text))
    .replaceAll('reed-west', () => JSON.stringify(text))
    .replace('60 m AGL', '300 m AGL')
    .replace('world/lakes.tif', () => JSON.stringify(text));

const onDisk = (text: string): string =>
  text
    .replaceAll('/', '-')
    .replace(/[\u0000]/g, '')
    .slice(0, 60);

describe('a report over plans with such texts', () => {
  const reports: Record<string, string> = {};
  let out = '';
  let folder = '';

  beforeAll(async () => {
    const files = CORPUS.map(([, text], i) => [`${i}${onDisk(text)}.mission.yaml`, planWith(text)]);
    folder = temporaryFolder(Object.fromEntries(files));
    const reportsIn = temporaryFolder();
    const formats = FORMATS.filter((format) => format !== 'github');
    const words = formats.flatMap((format) => ['--format', `${format}=${join(reportsIn, format)}`]);
    out = (await call(['check', '--now', EVENING, ...words, '--format', 'github', folder])).out;
    for (const format of formats) reports[format] = readFileSync(join(reportsIn, format), 'utf8');
  }, 120_000);

  test('the texts come into the reports', () => {
    const { plans } = JSON.parse(reports['json'] ?? '') as { plans: { title: string; findings: { rule: string }[] }[] };
    expect(plans).toHaveLength(CORPUS.length);
    const titles = new Set(plans.map(({ title }) => title));
    expect(CORPUS.filter(([, text]) => !titles.has(text)).map(([name]) => name)).toEqual([]);
    for (const { findings } of plans) expect(findings.map(({ rule }) => rule)).toContain('point-above-height-limit');
  });

  test('nothing hidden is in any of them', () => {
    for (const [format, report] of [...Object.entries(reports), ['github', out] as const]) {
      // Of the zero-width space a page has its own.
      const text = format.startsWith('markdown') ? report.replaceAll('\u200b', '') : report;
      expect({ format, found: HIDDEN.exec(text)?.[0] }).toEqual({ format, found: undefined });
      expect({ format, found: LONE.exec(text)?.[0] }).toEqual({ format, found: undefined });
    }
  });

  test('all that is JSON can be read', () => {
    for (const format of ['json', 'sarif', 'sarif-platform', 'gitlab', 'geojson', 'baseline'])
      expect(() => JSON.parse(reports[format] ?? '')).not.toThrow();
  });

  test('the XML is well-formed, with a test case for each rule and none that is forged', async () => {
    const xml = reports['junit'] ?? '';
    const read = await validateXML({ xml: [{ fileName: 'report.xml', contents: xml }], normalization: 'format' });
    expect(read.errors).toEqual([]);
    expect(read.valid).toBe(true);
    expect(xml.match(/<testsuite /g)).toHaveLength(CORPUS.length);
    expect(xml).not.toContain('name="forged"');
  });

  test('the lines of a workflow are commands, each whole', () => {
    const lines = out.split('\n').slice(0, -1);
    expect(lines.length).toBeGreaterThan(10);
    for (const line of lines) expect(line).toMatch(/^::(error|warning|notice) (?:[^:]|%3A)*::(?:(?!::).)*$/);
  });

  test('a problem matcher reads each line for problems, and none that is forged', () => {
    // The pattern for compilers in the documentation of Visual Studio Code's tasks.
    const matcher = /^(.*):(\d+):(\d+):\s+(warning|error|note):\s+(.*)$/;
    const lines = (reports['gnu'] ?? '').split('\n').slice(0, -1);
    const { plans } = JSON.parse(reports['json'] ?? '') as { plans: { findings: unknown[] }[] };
    expect(lines.length).toBeGreaterThanOrEqual(plans.reduce((sum, { findings }) => sum + findings.length, 0));
    for (const line of lines) expect(line).toMatch(matcher);
  });

  test.each(['markdown', 'markdown-summary'])('%s has no tag, link or row but its own', (format) => {
    const html = renderedMarkdown(reports[format] ?? '');
    const own = [
      'b',
      'code class="language-geojson"',
      'details',
      'details open',
      'h2',
      'p',
      'pre',
      'strong',
      'summary',
    ];
    const table = ['table', 'tbody', 'td', 'th', 'thead', 'tr'];
    const allowed = new Set([...own, ...table].flatMap((tag) => [tag, `/${tag.split(' ')[0]}`]));
    allowed.add('!-- waywarden:check --');
    expect(tagsOf(html).filter((tag) => !allowed.has(tag))).toEqual([]);
    expect(cellsOf(html)).not.toContain('forged');
    expect(html.match(/<!--/g)).toHaveLength(1);
  });
});
