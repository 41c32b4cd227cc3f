import { nearestApproach, type Strand } from '../geo/approach.ts';
import { boxesMeet, growBox } from '../geo/box.ts';
import { type FlatFrame, flatFrame } from '../geo/flat-frame.ts';
import { type LegPath, legPath } from '../geo/geodesy.ts';
import { betweenShapes, nearestToShape } from '../geo/near-shape.ts';
import type { Flight } from '../plan/model.ts';
import { exceeds } from '../units/exceeds.ts';
import { instant, type LonLat, type Metres, metres } from '../units/frames.ts';
import type { Neighbour } from '../world/neighbour.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools } from './fact.ts';
import { type FlownPiece, type FlownSpace, type FlownSpaces, flownSpaces, type Reach } from './flown-space.ts';
import type { Partly } from './lacking.ts';
import { neighbours, neighbourTools } from './neighbours.ts';
import type { TimeBand } from './timeline.ts';

/** Where a flight and one of a plan alongside come nearest while their heights and times overlap. */
export interface Meeting {
  readonly own: FlownSpace;
  readonly other: FlownSpace;
  /** Over the ground between the two as they are flown, 0 where they cross. */
  readonly distance: Metres;
  /** As far as the reaches of the two go together. */
  readonly reach: Metres;
  /** Where it is on the own flight. */
  readonly at: LonLat;
  readonly times: TimeBand;
}

/** How a flight lies to the flights of one plan alongside. */
export interface NeighbourMeeting {
  readonly neighbour: Neighbour;
  /** The flight geographies of the two meet: what is planned for one is planned for the other. */
  readonly paths?: Meeting;
  /** Their contingency volumes meet. */
  readonly volumes?: Meeting;
}

export interface Meetings extends Partly {
  readonly meetings: readonly NeighbourMeeting[];
}

/** The time that two bands have in common; undefined where one begins when the other is over. */
export const commonTime = (one: TimeBand, other: TimeBand): TimeBand | undefined => {
  const earliest = Math.max(one.earliest, other.earliest);
  const latest = Math.min(one.latest, other.latest);
  return latest > earliest ? { earliest: instant(earliest), latest: instant(latest) } : undefined;
};

/** What differs by less is equally near; the first in the order of the flight then stands for all. */
const CENTIMETRE = 0.01;

/** Volumes that only touch do not meet. */
const TOUCH = 0.001;

const raised = ([start, end]: readonly [number, number], by: number): readonly [number, number] => [
  start + by - TOUCH,
  end + by - TOUCH,
];

const strandOf = (
  { from, to, lowest, highest }: FlownPiece,
  path: LegPath,
  above: Metres,
  frame: FlatFrame,
): Strand => ({
  start: frame.place(path.at(from)),
  end: frame.place(path.at(to)),
  lowest,
  highest: raised(highest, above),
});

interface Near {
  readonly distance: Metres;
  readonly at: LonLat;
}

const between = (start: number, end: number, share: number): number => start + (end - start) * share;

/** From which to which share of a piece its heights overlap with a band; the first is the greater where they never do. */
const shareWithin = (piece: FlownPiece, above: Metres, lowest: number, highest: number): readonly [number, number] => {
  let [first, last] = [0, 1];
  const keep = (start: number, end: number): void => {
    if (start < 0 && end < 0) [first, last] = [1, 0];
    else if (start < 0) first = Math.max(first, start / (start - end));
    else if (end < 0) last = Math.min(last, start / (start - end));
  };
  const [top, otherTop] = [raised(piece.highest, above), highest];
  keep(top[0] - lowest, top[1] - lowest);
  keep(otherTop - piece.lowest[0], otherTop - piece.lowest[1]);
  return [first, last];
};

const pathToPath = (
  one: FlownSpace,
  path: LegPath,
  other: FlownSpace,
  otherPath: LegPath,
  reaches: Reaches,
): Near | undefined => {
  const frame = flatFrame(path.at(path.length / 2));
  const others = other.pieces.map((piece) => strandOf(piece, otherPath, reaches.other.above, frame));
  let best: Near | undefined;
  for (const piece of one.pieces) {
    const strand = strandOf(piece, path, reaches.own.above, frame);
    for (const each of others) {
      const found = nearestApproach(strand, each);
      if (found === undefined || (best !== undefined && found.distance >= best.distance)) continue;
      best = { distance: metres(found.distance), at: path.at(between(piece.from, piece.to, found.share)) };
    }
  }
  return best;
};

/** A path and an area; `of` is the one with the path. */
const pathToArea = (
  of: FlownSpace,
  path: LegPath,
  above: Metres,
  area: FlownSpace,
  areaAbove: Metres,
): Near | undefined => {
  const [band] = area.pieces;
  if (area.area === undefined || band === undefined) return undefined;
  let best: Near | undefined;
  for (const piece of of.pieces) {
    const [first, last] = shareWithin(piece, above, band.lowest[0], band.highest[0] + areaAbove - TOUCH);
    if (first > last) continue;
    const [from, to] = [between(piece.from, piece.to, first), between(piece.from, piece.to, last)];
    const found = nearestToShape(legPath(path.at(from), path.at(to)), area.area.shape);
    if (best === undefined || found.distance < best.distance) {
      best = { distance: found.distance, at: path.at(from + found.along) };
    }
  }
  return best;
};

const areaToArea = (one: FlownSpace, other: FlownSpace, reaches: Reaches): Near | undefined => {
  const [[own], [theirs]] = [one.pieces, other.pieces];
  const [at] = one.area?.ring ?? [];
  if (one.area === undefined || other.area === undefined || own === undefined || theirs === undefined) return undefined;
  if (at === undefined) return undefined;
  if (own.lowest[0] > theirs.highest[0] + reaches.other.above - TOUCH) return undefined;
  if (theirs.lowest[0] > own.highest[0] + reaches.own.above - TOUCH) return undefined;
  return { distance: betweenShapes(one.area.shape, other.area.shape), at };
};

interface Reaches {
  readonly own: Reach;
  readonly other: Reach;
}

/** Over the ground between two flown spaces, where their heights overlap; undefined where they never do. */
const nearestOf = (one: FlownSpace, other: FlownSpace, reaches: Reaches): Near | undefined => {
  const { own, other: theirs } = reaches;
  if (one.path === undefined) {
    if (other.path === undefined) return areaToArea(one, other, reaches);
    return pathToArea(other, other.path, theirs.above, one, own.above);
  }
  return other.path === undefined
    ? pathToArea(one, one.path, own.above, other, theirs.above)
    : pathToPath(one, one.path, other, other.path, reaches);
};

const meetingOf = (
  own: readonly FlownSpace[],
  others: readonly FlownSpace[],
  reachOf: (space: FlownSpace) => Reach,
): Meeting | undefined => {
  let best: Meeting | undefined;
  for (const one of own) {
    const around = growBox(one.box, reachOf(one).beside);
    for (const other of others) {
      const times = commonTime(one.times, other.times);
      if (times === undefined || !boxesMeet(around, growBox(other.box, reachOf(other).beside))) continue;
      const reaches = { own: reachOf(one), other: reachOf(other) };
      const reach = metres(reaches.own.beside + reaches.other.beside);
      const near = nearestOf(one, other, reaches);
      if (near === undefined || !exceeds(reach, near.distance)) continue;
      if (best !== undefined && near.distance > best.distance - CENTIMETRE) continue;
      best = { own: one, other, ...near, reach, times };
    }
  }
  return best;
};

/** What lacks in a plan alongside, with its name. */
export const lackingOf = ({ reference }: Neighbour, { missing, ...due }: Missing): Missing => ({
  missing: `in the plan "${reference}", ${missing}`,
  ...due,
});

const spacesOf = (neighbour: Neighbour, tools: FactTools): FlownSpaces => {
  const others = tools.ask(neighbourTools, neighbour);
  const all = neighbour.plan.flights.map((flight) => others.ask(flownSpaces, flight));
  return {
    spaces: all.flatMap(({ spaces }) => spaces),
    lacking: all.flatMap(({ lacking }) => lacking.map((each) => lackingOf(neighbour, each))),
  };
};

/** Where a flight meets those of the plans alongside, in space and in time. */
export const meetings = defineFact({
  name: 'meetings',
  derive: (flight: Flight, tools: FactTools): Meetings => {
    const { known, lacking: unread } = tools.ask(neighbours, tools.plan);
    if (known.length === 0) return { meetings: [], lacking: unread };
    const own = tools.ask(flownSpaces, flight);
    const lacking: Missing[] = [...unread, ...own.lacking];
    const found = known.map((neighbour): NeighbourMeeting => {
      const others = spacesOf(neighbour, tools);
      lacking.push(...others.lacking);
      const paths = meetingOf(own.spaces, others.spaces, ({ geography }) => geography);
      const volumes = meetingOf(own.spaces, others.spaces, ({ volume }) => volume);
      return {
        neighbour,
        ...(paths === undefined ? {} : { paths }),
        ...(volumes === undefined ? {} : { volumes }),
      };
    });
    return { meetings: found, lacking };
  },
});
