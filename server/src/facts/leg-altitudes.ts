import type { Leg, WrittenHeight } from '../plan/model.ts';
import { aboveSea, type Metres, type MetresAboveGround, type MetresAboveSea } from '../units/frames.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { type CraftHeight, itemHeight } from './item-height.ts';

/** How high the craft is along a leg. */
export type CraftAlong =
  /** In a straight line: the altitude above the sea is linear in the distance flown. */
  | { readonly kind: 'straight'; readonly start: CraftHeight; readonly end: CraftHeight }
  /** At one height above the ground below, held within so many metres. */
  | {
      readonly kind: 'follows';
      readonly height: MetresAboveGround;
      readonly within: Metres;
      readonly written: WrittenHeight;
    };

export const legAltitudes = defineFact({
  name: 'leg-altitudes',
  derive: (leg: Leg, tools: FactTools): CraftAlong => {
    const follows = leg.to.leg?.follows;
    if (follows === undefined) {
      return {
        kind: 'straight',
        start: tools.ask(itemHeight, leg.from).leaving,
        end: tools.ask(itemHeight, leg.to).arriving,
      };
    }
    const height = follows.height.value;
    if (!('aboveGround' in height)) {
      throw new NotAssessed(
        `the leg to ${leg.to.id.value} follows the terrain, and that takes a height above ground (AGL)`,
      );
    }
    return { kind: 'follows', height: height.aboveGround, within: follows.within, written: follows.height };
  },
});

/** Altitude of a straight leg at a distance from its start. */
export const altitudeAlong = (
  start: MetresAboveSea,
  end: MetresAboveSea,
  length: number,
  along: number,
): MetresAboveSea => aboveSea(length > 0 ? start + ((end - start) * along) / length : start);
