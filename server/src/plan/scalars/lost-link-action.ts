import { nearestWord } from './nearest-word.ts';
import { type Reading, refuse, tidyBlanks } from './reading.ts';

/** What an aircraft can do by itself once the command link is lost. */
export const LOST_LINK_ACTIONS = ['fly back and land', 'land there', 'hold', 'carry on'] as const;

export interface ReadLostLinkAction {
  readonly action: (typeof LOST_LINK_ACTIONS)[number] | 'fly to';
  /** Of `fly to`: the name of the place. */
  readonly to?: string;
}

const FLY_TO = 'fly to ';

/** Reads `fly back and land`, `land there`, `hold`, `carry on`, or `fly to` with the name of a place. */
export const readLostLinkAction = (text: string): Reading<ReadLostLinkAction> => {
  const tidy = tidyBlanks(text);
  const action = LOST_LINK_ACTIONS.find((each) => each === tidy);
  if (action !== undefined) return { ok: true, action };
  if (tidy.startsWith(FLY_TO)) return { ok: true, action: 'fly to', to: tidy.slice(FLY_TO.length) };
  const suggestion = nearestWord(tidy, LOST_LINK_ACTIONS);
  return refuse({
    kind: 'word-unknown',
    text,
    choices: [...LOST_LINK_ACTIONS, 'a place as in "fly to home"'],
    ...(suggestion === undefined ? {} : { suggestion }),
  });
};
