import { type InlayHint, InlayHintKind, type Range } from 'vscode-languageserver';
import type { FactTools } from '../../facts/fact.ts';
import { flightEnergy } from '../../facts/flight-energy.ts';
import { orLacking } from '../../facts/lacking.ts';
import { legHeight } from '../../facts/leg-height.ts';
import { pathOfLeg } from '../../facts/leg-path.ts';
import { routePlaceOf } from '../../facts/route-order.ts';
import { itemTimes } from '../../facts/timeline.ts';
import type { Item, Leg, Plan } from '../../plan/model.ts';
import { endOf, type Span } from '../../text/span.ts';
import { sayTime } from '../../units/calendar.ts';
import type { Instant } from '../../units/frames.ts';
import { sayDistance, sayNumber } from '../../units/say.ts';
import { rangeOf, touches } from '../convert.ts';
import type { Judgement } from '../judgement.ts';

/** Which hints a person wants to see; each has a setting of its own. */
export interface WantedHints {
  readonly heightAboveGround: boolean;
  readonly legLength: boolean;
  readonly arrival: boolean;
  readonly energyLeft: boolean;
}

export const ALL_HINTS: WantedHints = { heightAboveGround: true, legLength: true, arrival: true, energyLeft: true };

/** A hint is a number worked out; where something is lacking for it there is none, and the hover says why. */
const sayIfKnown = (derive: () => string | undefined): string | undefined => {
  const answer = orLacking(derive);
  return 'known' in answer ? answer.known : undefined;
};

/** `leg 38–61 m AGL` for the leg that ends at an item. Short, since editors cut a line's hints after some 40 characters. */
const sayHeights = (leg: Leg, tools: FactTools): string => {
  const { least, greatest, lacking } = tools.ask(legHeight, leg);
  const [low, high] = [sayNumber(least.value, 0), sayNumber(greatest.value, 0)];
  const heights = low === high ? `${high} m` : `${low}–${high} m`;
  return `leg ${heights} AGL${lacking.length === 0 ? '' : ', in part unknown'}`;
};

const clockTime = (at: Instant, plan: Plan): string => {
  const offsetMinutes = plan.window?.from?.value.offsetMinutes ?? plan.window?.until?.value.offsetMinutes ?? 0;
  return /\d\d:\d\d/.exec(sayTime({ at, offsetMinutes }).slice(10))?.[0] ?? '';
};

const sayArrival = (item: Item, tools: FactTools): string => {
  const { arrival } = itemTimes(item, tools);
  const [early, late] = [clockTime(arrival.earliest, tools.plan), clockTime(arrival.latest, tools.plan)];
  return early === late ? early : `${early}–${late}`;
};

/** What is left of the usable energy when an item is reached, or when an area has been flown. */
const sayEnergy = (item: Item, leg: Leg, tools: FactTools): string | undefined => {
  const flight = tools.plan.flights.find(({ number }) => number === leg.flight.number);
  if (flight === undefined) return undefined;
  const { stages, lacking } = tools.ask(flightEnergy, flight);
  const stage = stages.findLast(({ stage: each }) => (item.kind === 'area' ? each.item === item : each.leg === leg));
  if (stage === undefined) return undefined;
  return `${lacking.length === 0 ? '' : 'at most '}${sayNumber(stage.after * 100, 0)} % left`;
};

const hintAt = (span: Span, label: string | undefined, tooltip: string, judgement: Judgement): readonly InlayHint[] => {
  const lines = judgement.lines.get(span.anchor.document);
  if (label === undefined || lines === undefined) return [];
  const { line, column } = lines.at(endOf(span));
  return [{ position: { line, character: column }, label, tooltip, kind: InlayHintKind.Type, paddingLeft: true }];
};

const hintsOf = (item: Item, judgement: Judgement, tools: FactTools, wanted: WantedHints): readonly InlayHint[] => {
  const known = orLacking(() => routePlaceOf(item, tools).arriving);
  const leg = 'known' in known ? known.known : undefined;
  if (leg === undefined) return [];
  const name = item.id.span;
  const height = item.altitude?.span ?? name;
  const from = leg.from.id.value;
  return [
    ...(wanted.legLength
      ? hintAt(
          name,
          sayIfKnown(() => sayDistance(tools.ask(pathOfLeg, leg).length)),
          `Length of the leg from ${from}, over the ground`,
          judgement,
        )
      : []),
    ...(wanted.arrival
      ? hintAt(
          name,
          sayIfKnown(() => sayArrival(item, tools)),
          'Earliest and latest arrival, for every take-off inside the window',
          judgement,
        )
      : []),
    ...(wanted.energyLeft
      ? hintAt(
          name,
          sayIfKnown(() => sayEnergy(item, leg, tools)),
          'Share of the usable energy that is left on arrival, in the worst wind of the window',
          judgement,
        )
      : []),
    ...(wanted.heightAboveGround
      ? hintAt(
          height,
          sayIfKnown(() => sayHeights(leg, tools)),
          `Least and greatest height above the ground under the whole leg from ${from}`,
          judgement,
        )
      : []),
  ];
};

/** More hints than these in one answer would make an editor stutter. */
const MOST_ITEMS = 1000;

/** The hints of the route items that a range shows. */
export const hintsIn = (judgement: Judgement, range: Range, wanted: WantedHints): InlayHint[] => {
  const { input, tools, lines } = judgement;
  if (input === undefined || tools === undefined) return [];
  return input.plan.items
    .filter((item) => item.kind !== 'unread' && touches(rangeOf(item.span, lines), range))
    .slice(0, MOST_ITEMS)
    .flatMap((item) => hintsOf(item, judgement, tools, wanted));
};
