import { expect, test } from 'vitest';
import type { Range } from 'vscode-languageserver';
import { changed, type Language, languageOf, type OpenDocument } from '../../server/src/lsp/documents.ts';
import { foldsOf } from '../../server/src/lsp/layout/folding.ts';
import { formattingOf } from '../../server/src/lsp/layout/format.ts';
import { linksOf, referencesIn } from '../../server/src/lsp/layout/links.ts';
import { selectionAt } from '../../server/src/lsp/layout/selection.ts';
import { offerPlainPositions } from '../../server/src/lsp/mending/positions.ts';
import { namesIn } from '../../server/src/lsp/names/names-in.ts';
import { Trees } from '../../server/src/lsp/trees.ts';
import { Lines } from '../../server/src/text/lines.ts';
import { endOf, startOf } from '../../server/src/text/span.ts';
import { memoryFiles } from '../support/memory-files.ts';
import { filesBelow, readProject } from '../support/project.ts';

const FILES = memoryFiles({});
const SAMPLES = filesBelow('samples').filter((path) => /\.ya?ml$/.test(path));

const documentOf = (text: string, language: Language, trees: Trees, serial: number): OpenDocument => ({
  uri: 'memory:/a',
  location: '/a',
  language,
  version: serial,
  serial,
  text,
  lines: new Lines(text),
  trees,
});

const isInOrder = ({ start, end }: Range): boolean =>
  start.line < end.line || (start.line === end.line && start.character <= end.character);

test.each(SAMPLES)('every cut of %s folds, selects, links, names and formats without a failure', (path) => {
  const whole = readProject(path);
  const language = languageOf('', path);
  // One holder for all cuts, as when the text is typed.
  const trees = new Trees();
  for (let cut = 0; cut <= whole.length; cut += cut % 7 === 0 ? 5 : 3) {
    const text = whole.slice(0, cut);
    const document = documentOf(text, language, trees, cut + 1);
    const { count } = document.lines;
    for (const { startLine, endLine } of foldsOf(text)) {
      expect(startLine).toBeLessThan(endLine);
      expect(endLine).toBeLessThan(count);
    }
    expect(isInOrder(selectionAt(document, cut).range)).toBe(true);
    for (const { from, to, text: reference } of referencesIn(document))
      expect(text.slice(from, to)).toContain(reference);
    linksOf(document, '/', FILES, (location) => location);
    for (const { name, span } of namesIn(trees.of(document), language))
      expect(text.slice(startOf(span), endOf(span))).toContain(name);
    offerPlainPositions(document, 0, cut, []);
    if (cut % 4 !== 0) continue;
    const edits = formattingOf(document).map(({ range, newText }) => ({ range, text: newText }));
    const tidy = changed(text, edits.toReversed());
    expect(tidy.replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
  }
});

test('formatting twice changes nothing more', () => {
  const untidy = 'mission:   1 \ntitle:   x\nroute:\n  -   take-off:  home  \n  - land: home\n\n\n \n';
  const once = changed(
    untidy,
    formattingOf(documentOf(untidy, 'mission', new Trees(), 1))
      .map(({ range, newText }) => ({ range, text: newText }))
      .toReversed(),
  );
  expect(once).not.toBe(untidy);
  expect(formattingOf(documentOf(once, 'mission', new Trees(), 2))).toEqual([]);
});
