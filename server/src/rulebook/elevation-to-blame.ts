import { elevationGap } from '../facts/elevation-gap.ts';
import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';

/**
 * The cause of a wrong height that is written above take-off, where the take-off elevation itself contradicts the
 * terrain: one slip in one number must not come back from every point of the route.
 */
export const elevationToBlame = (
  item: Item,
  written: WrittenHeight,
  tools: FactTools,
): { readonly at: Span; readonly name: string } | undefined => {
  if (written.datum !== 'above take-off') return undefined;
  // Where the take-off place has no ground to compare with, nobody is to blame; the finding itself stands.
  const gap = orLacking(() => elevationGap(routePlaceOf(item, tools).flight.first, tools));
  return 'missing' in gap || gap.known === undefined ? undefined : { at: gap.known.at, name: 'the take-off elevation' };
};

/** As `elevationToBlame`, for a leg: the height at either of its ends. */
export const elevationToBlameOnLeg = (
  leg: Leg,
  tools: FactTools,
): { readonly at: Span; readonly name: string } | undefined => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return undefined;
  const written = [craft.end.written, craft.start.written].find((one) => one?.datum === 'above take-off');
  return written === undefined ? undefined : elevationToBlame(leg.to, written, tools);
};
