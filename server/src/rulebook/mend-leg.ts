import type { FactTools } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import { legAltitudes } from '../facts/leg-altitudes.ts';
import { legGround } from '../facts/leg-ground.ts';
import { pathOfLeg } from '../facts/leg-path.ts';
import { patternPoints } from '../facts/pattern.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { heightOverGround } from '../geo/quadratic.ts';
import type { Item, Leg, WrittenHeight } from '../plan/model.ts';
import { aboveGround, aboveSea } from '../units/frames.ts';
import type { Fix } from './finding.ts';
import type { HeightBand } from './height-band.ts';
import { insertPoints } from './insert-points.ts';
import { lowerBy, loweringOf, raiseBy, raisingOf, sayInItsWords } from './written-height.ts';

/** Metres within which the search for the smallest change stops. */
const GRAIN = 0.01;

interface Ends {
  readonly start: number;
  readonly end: number;
}

/** Whether a leg with its ends moved by so many metres stays inside the band over all of its ground. */
const fits = (leg: Leg, moved: Ends, band: HeightBand, tools: FactTools): boolean => {
  const craft = tools.ask(legAltitudes, leg);
  if (craft.kind === 'follows') return true;
  const { length } = tools.ask(pathOfLeg, leg);
  const { least, greatest } = heightOverGround(
    tools.ask(legGround, leg),
    aboveSea(craft.start.aboveSea + moved.start),
    aboveSea(craft.end.aboveSea + moved.end),
    length,
  );
  return least !== undefined && greatest !== undefined && least.value > band.least && greatest.value <= band.most;
};

/** The legs that hang on an item's altitude: those that end there and start there; of a pattern's point all of the pattern's. */
const legsAt = (item: Item, tools: FactTools): readonly Leg[] => {
  const { pattern } = item.partOf ?? {};
  const points = pattern === undefined ? [item] : tools.ask(patternPoints, pattern);
  const legs = points.flatMap((point) => {
    const { arriving, leaving } = routePlaceOf(point, tools);
    return [arriving, leaving].filter((leg) => leg !== undefined);
  });
  return [...new Set(legs)];
};

/** More legs than these are not looked through for a mend: the finding then stands without one. */
const MOST_LEGS = 50;

/** The item whose altitude is written for an item: the pattern that a point was worked out from, else itself. */
const writerOf = (item: Item): Item => item.partOf?.pattern ?? item;

/** An area is entered at a height that hangs on its neighbour's: what becomes of such a leg is not worked out here. */
const isMovable = (leg: Leg): boolean => leg.from.kind !== 'area' && leg.to.kind !== 'area';

/** A take-off or landing beside the item takes its height over, so the other end moves along. */
const moves = (leg: Leg, item: Item, by: number): Ends => {
  const isMoved = (other: Item): boolean => writerOf(other) === writerOf(item);
  const shares = (other: Item): boolean =>
    (other.kind === 'take-off' && other.climbTo === undefined) || other.kind === 'land';
  return {
    start: isMoved(leg.from) || (isMoved(leg.to) && shares(leg.from)) ? by : 0,
    end: isMoved(leg.to) || (isMoved(leg.from) && shares(leg.to)) ? by : 0,
  };
};

/**
 * The fix that moves one end of a leg by the least that brings it into the band, if that keeps the neighbouring leg in
 * the band, too. Undefined where no such change exists: then the leg needs a point in between.
 */
const moveEnd = (
  item: Item,
  height: WrittenHeight | undefined,
  direction: 1 | -1,
  most: number,
  band: HeightBand,
  tools: FactTools,
): Fix | undefined => {
  if (height === undefined) return undefined;
  const legs = legsAt(item, tools);
  if (!legs.every(isMovable)) return undefined;
  const works = (by: number): boolean => legs.every((leg) => fits(leg, moves(leg, item, direction * by), band, tools));
  // Too small a move leaves the breach, too large a one makes another: look for the smallest that works.
  const tries = Math.min(200, Math.ceil(most));
  for (let i = 1; i <= tries; i++) {
    const by = (most * i) / tries;
    if (!works(by)) continue;
    let low = (most * (i - 1)) / tries;
    let high = by;
    while (high - low > GRAIN) {
      const middle = (low + high) / 2;
      if (works(middle)) high = middle;
      else low = middle;
    }
    const real = direction < 0 ? loweringOf(height, high) : raisingOf(height, high);
    if (!works(real)) return undefined;
    return direction < 0 ? lowerBy(item.id.value, height, high) : raiseBy(item.id.value, height, high);
  }
  return undefined;
};

/** No mend where something is lacking for it, such as the altitude behind a neighbouring leg: the finding stays without. */
const whereKnown = (mend: () => Fix | undefined): Fix | undefined => {
  const answer = orLacking(mend);
  return 'known' in answer ? answer.known : undefined;
};

/**
 * The fix that lowers a point by at least so many metres, in the pilot's own words; none where a leg would then run into
 * the ground that did not before.
 */
export const lowerPoint = (item: Item, height: WrittenHeight, metres: number, tools: FactTools): readonly Fix[] => {
  const real = loweringOf(height, metres);
  const open = { least: aboveGround(0), most: aboveGround(Number.POSITIVE_INFINITY) };
  const isKept = (leg: Leg): boolean => {
    const before = orLacking(() => fits(leg, { start: 0, end: 0 }, open, tools));
    if ('missing' in before || !before.known) return true;
    return fits(leg, moves(leg, item, -real), open, tools);
  };
  const legs = legsAt(item, tools);
  if (legs.length > MOST_LEGS || !legs.every(isKept)) return [];
  return [lowerBy(writerOf(item).id.value, height, metres)];
};

/** The fix that moves an item so far that the legs beside it come into the band, too; none where that does not do. */
export const moveWithLegs = (
  item: Item,
  height: WrittenHeight,
  direction: 1 | -1,
  excess: number,
  band: HeightBand,
  tools: FactTools,
): readonly Fix[] => {
  const fix = whereKnown(() => moveEnd(item, height, direction, Math.max(excess * 4, 20), band, tools));
  return fix === undefined ? [] : [fix];
};

/** How closely terrain following is held where a mend puts it in, in metres. Common practice, no source. */
const WITHIN = 5;

/** The fix that lets a pattern follow the terrain at the height that is written for it, if that keeps it in the band. */
const letFollow = (leg: Leg, band: HeightBand): Fix | undefined => {
  const item = writerOf(leg.to);
  const { pattern } = item;
  const altitude = pattern?.altitude;
  if (pattern?.nextKey === undefined || altitude === undefined || !('aboveGround' in altitude.value)) return undefined;
  const height = altitude.value.aboveGround;
  if (pattern.terms.follows !== undefined || height - WITHIN <= band.least || height + WITHIN > band.most)
    return undefined;
  const entry = `follows: ${sayInItsWords(altitude, altitude.number)} within ${WITHIN} m`;
  return {
    title: `Let ${item.id.value} follow the terrain: add "${entry}"`,
    effect: 'changes-flight',
    edits: [{ span: pattern.nextKey.at, text: `${pattern.nextKey.before}${entry}` }],
  };
};

/** The ways to bring a leg into the band: move one end, move the other, or put points in between. The first is preferred. */
export const mendLeg = (
  leg: Leg,
  direction: 1 | -1,
  excess: number,
  band: HeightBand,
  tools: FactTools,
): readonly Fix[] => {
  const most = Math.max(excess * 4, 20);
  // A pattern is not raised or lowered as a whole for the sake of one of its legs.
  const moved = [leg.to, leg.from]
    .filter((item) => item.partOf === undefined)
    .map((item) => whereKnown(() => moveEnd(item, item.altitude, direction, most, band, tools)));
  const inside = leg.from.partOf !== undefined && writerOf(leg.from) === writerOf(leg.to);
  const inserted = inside ? letFollow(leg, band) : whereKnown(() => insertPoints(leg, band, tools));
  return [inserted, ...moved].filter((fix) => fix !== undefined);
};
