import type { Level } from '../../rulebook/finding.ts';
import { sayCount } from '../../units/say.ts';
import type { Run } from '../checked.ts';
import { hostedPath } from '../hosted-path.ts';
import { countsOf, type Told, toldOf } from './told.ts';
import { workflowCommand } from './workflow-command.ts';

/** The runner shows this many annotations of a kind for each step and drops the rest without a word. */
const SHOWN_OF_A_KIND = 10;

const NAMES: Readonly<Record<Level, 'error' | 'warning' | 'notice'>> = {
  stop: 'error',
  caution: 'warning',
  note: 'notice',
};

const annotation = (told: Told, run: Run): string => {
  const { start, end } = told.range;
  // Columns are shown for places within one line only.
  const within = start.line === end.line;
  return workflowCommand(
    NAMES[told.level],
    {
      file: hostedPath(told.document, run.top),
      line: start.line,
      endLine: end.line,
      col: within ? start.column : undefined,
      endColumn: within ? end.column : undefined,
      title: `${told.level}: ${told.rule}`,
    },
    told.message,
  );
};

const sayRest = (rest: readonly Told[]): string => {
  const { stop, caution, note } = countsOf(rest);
  const parts = [
    ...(stop > 0 ? [sayCount(stop, 'stop')] : []),
    ...(caution > 0 ? [sayCount(caution, 'caution')] : []),
    ...(note > 0 ? [sayCount(note, 'note')] : []),
  ];
  return `${parts.join(', ')} more than a workflow shows; the other formats of waywarden check have all of them`;
};

/**
 * Annotations of a workflow: the ten worst of each kind, of which the last notice counts what is left out. They are lines
 * of standard output; in a file they do nothing until it is printed.
 */
export const githubReport = (run: Run): string => {
  const told = toldOf(run);
  const of = (level: Level, most: number): readonly Told[] => told.filter((one) => one.level === level).slice(0, most);
  const notices = of('note', SHOWN_OF_A_KIND);
  const worse = [...of('stop', SHOWN_OF_A_KIND), ...of('caution', SHOWN_OF_A_KIND)];
  const complete = worse.length + notices.length === told.length;
  const shown = new Set(complete ? [...worse, ...notices] : [...worse, ...notices.slice(0, SHOWN_OF_A_KIND - 1)]);
  const lines = told.filter((one) => shown.has(one)).map((one) => annotation(one, run));
  const rest = told.filter((one) => !shown.has(one));
  if (rest.length > 0) lines.push(workflowCommand('notice', { title: 'waywarden' }, sayRest(rest)));
  return lines.map((line) => `${line}\n`).join('');
};
