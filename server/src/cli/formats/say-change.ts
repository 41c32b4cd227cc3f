import type { Change } from '../../plan/changes.ts';
import type { SettingsChange } from '../../review/compare-settings.ts';
import { sayDistance, sayNumber } from '../../units/say.ts';

const quoted = (text: string | undefined): string => (text === undefined ? 'nothing' : `"${text}"`);

/** "+10 m", "-4.5 m" */
const saySigned = (by: number): string => `${by >= 0 ? '+' : '-'}${sayNumber(Math.abs(by))} m`;

/** One change of a plan in a line: subject, what, before → after. Texts of the plan are as written. */
export const sayChange = (change: Change): string => {
  const { subject } = change;
  switch (change.kind) {
    case 'added':
      return `${subject} was added ${change.after ?? ''}`.trimEnd();
    case 'dropped':
      return `${subject} was dropped`;
    case 'reordered':
      return `${subject} is now flown ${change.after ?? ''}`.trimEnd();
    case 'renamed':
      return `${subject} was called "${change.before}"`;
    case 'moved':
      return `${subject} moved ${sayDistance(change.by)}: "${change.before}" → "${change.after}"`;
    default: {
      const { field, before, after, by } = change;
      if (before === undefined) return `${subject}: ${field} ${quoted(after)} was added`;
      if (after === undefined) return `${subject}: ${field} was dropped (it was ${quoted(before)})`;
      const how = by === undefined ? '' : ` (${saySigned(by)})`;
      return `${subject}: ${field} ${quoted(before)} → ${quoted(after)}${how}`;
    }
  }
};

/** Head keys that change no flight. */
const WORDS = new Set(['title', 'mission']);

/** Whether a change can matter to the safety of the flight: all but words. */
export const matters = (change: Change): boolean =>
  change.kind !== 'renamed' && !(change.kind === 'changed' && WORDS.has(change.field));

export const saySettingsChange = ({ kind, name, before, after }: SettingsChange): string => {
  if (kind === 'rule switched off') return `rule switched off: ${name}, because ${quoted(after)}`;
  if (kind === 'rule switched on') return `rule switched on again: ${name}`;
  return `${kind}: ${name} ${before ?? 'not set'} → ${after ?? 'not set'}`;
};
