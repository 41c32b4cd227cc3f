import type { Slip } from '../plan/slip.ts';
import { endOf, type Span, startOf } from '../text/span.ts';
import { NotAssessed } from './fact.ts';

/** The keys that lead to a slip of the head or of a file, such as "crew pilot watches". */
const keysOf = ({ subject, field }: Slip): string =>
  field === undefined ? '' : subject.startsWith('the ') ? field : `${subject} ${field}`;

/** The keys that a misspelt key was most likely to lead to. */
const meantKeysOf = (slip: Slip): string | undefined =>
  slip.kind === 'key-unknown' && slip.suggestion !== undefined
    ? [...keysOf(slip).split(' ').slice(0, -1), slip.suggestion].join(' ')
    : undefined;

/** What spoils all that stands under its key. */
const SPOILS_ALL: ReadonlySet<Slip['kind']> = new Set(['value-of-wrong-kind', 'key-repeated', 'key-unknown']);

/** What spoils more than the key it stands at; such a slip may have swallowed any other. */
const isAnywhere = (slip: Slip): boolean => {
  if (!slip.subject.startsWith('the ')) return false;
  if (slip.kind === 'key-missing') return ['mission', 'aircraft', 'settings'].includes(slip.key);
  if (slip.kind === 'value-of-wrong-kind') return slip.field === undefined;
  return slip.kind === 'yaml-broken' || slip.kind === 'yaml-not-plain' || slip.kind === 'document-too-large';
};

const liesIn = (span: Span, within: Span | undefined): boolean =>
  within === undefined || (startOf(span) >= startOf(within) && endOf(span) <= endOf(within));

/**
 * `NotAssessed` where something under a key could not be read: what seems to be missing may be what was not read, and
 * that is told already. `keys` lead to it from the top, as in "crew observers"; a syntax error outside `within`, which
 * was read, has swallowed nothing of it.
 */
export const requireRead = (slips: readonly Slip[], keys: string, within?: Span): void => {
  const touches = (slip: Slip): boolean => {
    const path = meantKeysOf(slip) ?? keysOf(slip);
    if (path === '') return false;
    return `${path} `.startsWith(`${keys} `) || (SPOILS_ALL.has(slip.kind) && keys.startsWith(`${path} `));
  };
  const unread = slips.some((slip) => (isAnywhere(slip) && liesIn(slip.span, within)) || touches(slip));
  if (unread) throw new NotAssessed(`what stands under "${keys}" could not be read in full`);
};
