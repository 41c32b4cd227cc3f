import type { HouseLimit } from '../plan/settings.ts';
import type { Remark } from './finding.ts';

/** Who set a limit of the settings file. */
export const HOUSE = 'the house (waywarden.settings.yaml)';

/** The reason of a limit of the house, behind it in a message; nothing where the house gives none. */
export const sayReason = (limit: HouseLimit<unknown> | undefined): string =>
  limit?.because === undefined ? '' : `, because "${limit.because.value}"`;

/** Where the house wrote a limit. */
export const setHere = ({ span }: HouseLimit<unknown>): Remark => ({
  at: span,
  message: 'the house set the limit here',
});
