import type { Item, Leg } from '../plan/model.ts';
import { outdoes } from '../units/exceeds.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import { type HeightPlace, legHeight } from './leg-height.ts';
import { patternPoints } from './pattern.ts';
import { routePlaceOf } from './route-order.ts';

/** A leg of a pattern, and a height on it above the ground straight below. */
export interface LineHeight {
  readonly leg: Leg;
  readonly place: HeightPlace;
}

export interface PatternHeights extends Partly {
  readonly least: LineHeight;
  readonly greatest: LineHeight;
}

/** The legs of a pattern that are lines, without the ways between them. */
export const patternLines = defineFact({
  name: 'pattern-lines',
  derive: (item: Item, tools: FactTools): readonly Leg[] =>
    tools.ask(patternPoints, item).flatMap((point) => {
      const leg = point.partOf?.endsLine === true ? routePlaceOf(point, tools).arriving : undefined;
      return leg === undefined ? [] : [leg];
    }),
});

/** Least and greatest height above ground over all lines of a pattern. */
export const patternHeights = defineFact({
  name: 'pattern-heights',
  derive: (item: Item, tools: FactTools): PatternHeights => {
    const lacking: Partly['lacking'][number][] = [];
    let least: LineHeight | undefined;
    let greatest: LineHeight | undefined;
    for (const leg of tools.ask(patternLines, item)) {
      const height = orLacking(() => tools.ask(legHeight, leg));
      if ('missing' in height) {
        lacking.push(height);
        continue;
      }
      const { known } = height;
      lacking.push(...known.lacking);
      if (least === undefined || outdoes(least.place.value, known.least.value)) least = { leg, place: known.least };
      if (greatest === undefined || outdoes(known.greatest.value, greatest.place.value)) {
        greatest = { leg, place: known.greatest };
      }
    }
    if (least === undefined || greatest === undefined) {
      throw new NotAssessed(lacking[0]?.missing ?? `${item.id.value} has no line whose height is known`);
    }
    return { least, greatest, lacking };
  },
});
