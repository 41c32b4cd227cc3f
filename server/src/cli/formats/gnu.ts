import type { Level } from '../../rulebook/finding.ts';
import type { Run } from '../checked.ts';
import { plain } from '../terminal.ts';
import { toldOf } from './told.ts';

const SEVERITIES: Readonly<Record<Level, string>> = { stop: 'error', caution: 'warning', note: 'note' };

/**
 * `file:line:column: severity: message [rule]`, one line each, as in the GNU Coding Standards ("Formatting Error
 * Messages"), which the problem matchers of editors read.
 */
export const gnuReport = (run: Run): string =>
  toldOf(run)
    .map(({ path, range: { start }, level, message, rule }) => {
      return `${plain(path)}:${start.line}:${start.column}: ${SEVERITIES[level]}: ${plain(message)} [${rule}]\n`;
    })
    .join('');
