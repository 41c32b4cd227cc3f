import { type Box, boxAround, boxesMeet } from '../geo/box.ts';
import { writtenPositions } from '../plan/item-positions.ts';
import type { Plan } from '../plan/model.ts';
import type { Written } from '../text/span.ts';
import { degrees, type LonLat } from '../units/frames.ts';
import { isEuropean, type RuleSetId } from './rule-set.ts';

const box = (west: number, south: number, east: number, north: number): Box => ({
  west: degrees(west),
  south: degrees(south),
  east: degrees(east),
  north: degrees(north),
});

/**
 * Generous boxes around the territory: they can only contradict, never choose. From memory: the conterminous States,
 * Alaska with the Aleutians (over the 180° meridian), Hawaii, Puerto Rico and the Virgin Islands, Guam and the Northern
 * Marianas, American Samoa.
 */
const UNITED_STATES = [
  box(-125.5, 24, -66, 49.6),
  box(172, 51, -129.5, 72),
  box(-179, 18, -154, 29),
  box(-68.5, 17.3, -64.2, 19),
  box(144, 13, 147, 21),
  box(-171.5, -15, -168, -10.8),
];

/** Europe with the Azores, Madeira and the Canaries, Iceland and Svalbard; and the outermost regions of the Union. */
const EUROPE = [
  box(-32, 27, 35.5, 81),
  box(-63.5, 14, -60.5, 18.5),
  box(-55, 2, -51, 6),
  box(55, -21.6, 56, -20.7),
  box(44.8, -13.2, 45.5, -12.4),
];

/**
 * Boxes that hold land of the United Kingdom and of no other State: England and Wales, Cornwall, the middle and the north
 * of Scotland with its islands, and the north-east of Ireland. They are tight where those of the rule sets are generous,
 * since they say that the law is not here. From memory.
 */
const UNITED_KINGDOM = [
  box(-5.3, 51, 1.2, 56),
  box(-6, 49.8, -3, 51),
  box(-3, 50.5, 0.5, 51),
  box(-7.8, 55.9, -0.5, 61),
  box(-6.9, 54.5, -5.4, 55.3),
];

/** All positions of a plan: the take-off place, and those of its items and areas. */
const positionsOf = (plan: Plan): readonly Written<LonLat>[] =>
  [plan.site.takeOff?.at, ...plan.items.flatMap((item) => writtenPositions(item).map(({ at }) => at))].filter(
    (at) => at !== undefined,
  );

/**
 * The positions of a plan where not one of them lies in the territory of a rule set; none where one does. A single
 * position that lies elsewhere is the business of the rules about positions.
 */
export const allElsewhere = (plan: Plan, ruleSet: RuleSetId): readonly Written<LonLat>[] => {
  const areas = isEuropean(ruleSet) ? EUROPE : UNITED_STATES;
  const positions = positionsOf(plan);
  const isHere = ({ value }: Written<LonLat>): boolean => {
    const point = boxAround([value]);
    return point === undefined || areas.some((area) => boxesMeet(area, point));
  };
  return positions.some(isHere) ? [] : positions;
};

/** Whether all positions of a plan lie in the United Kingdom, whose rules are not those of the Union. */
export const isInUnitedKingdom = (plan: Plan): boolean => {
  const positions = positionsOf(plan);
  return (
    positions.length > 0 &&
    positions.every(({ value }) => {
      const point = boxAround([value]);
      return point !== undefined && UNITED_KINGDOM.some((area) => boxesMeet(area, point));
    })
  );
};
