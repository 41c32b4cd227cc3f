import { type FoldingRange, FoldingRangeKind } from 'vscode-languageserver';

/** Folds of many thousand lines make an editor stutter. */
const MOST = 5000;

interface OpenFold {
  readonly line: number;
  readonly indent: number;
}

/**
 * Folds by indentation, so that a text that is half typed keeps its folds. A list may stand as far left as its key;
 * comments of several lines fold, too. Blank lines at the end of a fold stay outside of it.
 */
export const foldsOf = (text: string): FoldingRange[] => {
  const folds: FoldingRange[] = [];
  const open: OpenFold[] = [];
  let last = -1;
  let comment: number | undefined;
  const close = (indent: number): void => {
    for (let top = open[open.length - 1]; top !== undefined && top.indent >= indent; top = open[open.length - 1]) {
      open.pop();
      if (last > top.line) folds.push({ startLine: top.line, endLine: last });
    }
  };
  const endComment = (before: number): void => {
    if (comment !== undefined && before - 1 > comment)
      folds.push({ startLine: comment, endLine: before - 1, kind: FoldingRangeKind.Comment });
    comment = undefined;
  };
  for (const [number, line] of text.split(/\r\n|\n|\r/).entries()) {
    const content = line.trim();
    if (content.startsWith('#')) comment ??= number;
    else endComment(number);
    if (content === '' || content.startsWith('#')) continue;
    const blanks = /^ */.exec(line)?.[0].length ?? 0;
    // A dash counts as half a column further in than a key of the same column.
    const indent = blanks * 2 + (/^-(?:\s|$)/.test(content) ? 1 : 0);
    close(indent);
    open.push({ line: number, indent });
    last = number;
  }
  close(0);
  endComment(text.split(/\r\n|\n|\r/).length);
  return folds.sort((one, other) => one.startLine - other.startLine || other.endLine - one.endLine).slice(0, MOST);
};
