import type { Level } from '../../rulebook/finding.ts';
import type { Run } from '../checked.ts';
import { hostedPath } from '../hosted-path.ts';
import { plain } from '../terminal.ts';
import { type Told, toldOf } from './told.ts';

const SEVERITIES: Readonly<Record<Level, string>> = { stop: 'critical', caution: 'major', note: 'info' };

/** A check that could not be completed weighs more than anything it could have found. */
const severityOf = ({ kind, level }: Told): string =>
  kind === 'fault' || kind === 'unopened' ? 'blocker' : SEVERITIES[level];

/**
 * A code quality report: a list of issues, each with a path from the top of the checkout, the line, a severity and a
 * fingerprint of its own, since issues with one fingerprint hide each other.
 */
export const gitlabReport = (run: Run): readonly object[] =>
  toldOf(run).map((told) => ({
    description: plain(told.message),
    check_name: told.rule,
    fingerprint: told.identity,
    severity: severityOf(told),
    location: { path: hostedPath(told.document, run.top), lines: { begin: told.range.start.line } },
  }));
