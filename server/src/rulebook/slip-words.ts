import type { Slip } from '../plan/slip.ts';
import type { Complaint, Fix } from './finding.ts';

/** What all rules about slips say alike. */

/** Longer texts are cut in messages: they are shown to be recognised, not to be read. */
const LONGEST = 60;

/** Keys that are prepositions read badly before "of". */
const PREPOSITIONS: ReadonlySet<string> = new Set([
  'from',
  'to',
  'until',
  'by',
  'of',
  'for',
  'after',
  'inside',
  'up-to',
]);

/** `altitude of point ridge`, `window "from"`, or the item or section alone. */
export const sayPlace = ({ field, subject }: Pick<Slip, 'field' | 'subject'>): string => {
  if (field === undefined) return subject;
  if (PREPOSITIONS.has(field)) return `${subject} "${field}"`;
  return `${field === 'at' ? 'position' : field} of ${subject}`;
};

/** The pilot's text in double quotes, on one line. */
export const sayWritten = (text: string): string => {
  const line = text.replace(/\s+/g, ' ');
  return `"${line.length > LONGEST ? `${line.slice(0, LONGEST - 1)}…` : line}"`;
};

/** A complaint on the slip's own characters. */
export const complaint = (slip: Slip, message: string, fixes: readonly Fix[] = []): { readonly found: Complaint } => ({
  found: { at: slip.span, subject: sayPlace(slip), message, ...(fixes.length === 0 ? {} : { fixes }) },
});

/** One fix for each text that could stand instead of the slip's whole scalar. */
export const rewrites = (
  slip: Slip & { readonly text: string },
  effect: Fix['effect'],
  texts: readonly string[],
): readonly Fix[] =>
  texts.map((text) => ({
    title: `Write ${sayWritten(text)} (was ${sayWritten(slip.text)})`,
    effect,
    edits: [{ span: slip.span, text: inYaml(slip, text) }],
  }));

/** Characters that end or change a plain scalar in YAML 1.2.2, 7.3.3, somewhere. */
const NEEDS_QUOTES = /^[-?:,[\]{}#&*!|>'"%@`]\s|^[,[\]{}#&*!|>'"%@`]|: |:$| #|[,[\]{}]|^$/;

/**
 * A text as it has to be written over the slip's characters. It gets quotes where the old one had them, or where it
 * brings a mark with it that could end the value and that the old one did not hold.
 */
const inYaml = (slip: Slip & { readonly text: string }, text: string): string => {
  const isPlain = slip.span.to - slip.span.from === slip.text.length;
  if (isPlain && (!NEEDS_QUOTES.test(text) || NEEDS_QUOTES.test(slip.text))) return text;
  return isPlain || NEEDS_QUOTES.test(text) ? `"${text.replace(/["\\]/g, '\\$&')}"` : text;
};
