import { chordInDisc } from '../geo/chord.ts';
import { flatFrame } from '../geo/flat-frame.ts';
import { type Interval, mergeIntervals } from '../geo/interval.ts';
import { ringOfPoints, windings } from '../geo/ring.ts';
import type { PlanePoint } from '../geo/straight-pieces.ts';
import type { Leg } from '../plan/model.ts';
import { type Metres, metres } from '../units/frames.ts';
import type { Obstacle } from '../world/obstacle.ts';
import { legLevels } from './craft-levels.ts';
import { defineFact, type FactTools } from './fact.ts';
import { eyeOf } from './hidden.ts';
import type { Partly } from './lacking.ts';
import { orLacking } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { legOverTop, obstaclesNear, topOf } from './obstacle-passes.ts';
import { knownObstacles } from './obstacles.ts';
import { type Watcher, watchersOf } from './watchers.ts';

/** An obstacle in the line from a watcher to the craft. */
export interface Screened {
  readonly watcher: Watcher;
  readonly obstacle: Obstacle;
  /** In metres along the leg, found every two metres. */
  readonly stretches: readonly Interval[];
}

export interface ScreenedFrom extends Partly {
  readonly screened: readonly Screened[];
}

/** A mast or pole thinner than this hides nothing for long: its radius in metres. */
const THIN = 0.25;
/** Metres between looks, and how many there are at most on a leg. */
const APART = 2;
const MOST = 500;

type Line = readonly [from: number, to: number];

/** The part of the line from the origin to a place that lies in a footprint, as shares of the line. */
type Crossing = (to: PlanePoint) => Line | undefined;

const crossingOf = (obstacle: Obstacle, frame: ReturnType<typeof flatFrame>): Crossing => {
  const { footprint } = obstacle;
  if (footprint === undefined) {
    const { x, y } = frame.place(obstacle.at);
    return (to) => chordInDisc({ x: 0, y: 0, dx: to.x, dy: to.y }, x, y, obstacle.radius);
  }
  const corners = footprint.map((corner) => frame.place(corner));
  const ring = ringOfPoints(corners);
  return (to) => {
    const shares = [0, 1];
    corners.forEach((corner, i) => {
      const next = corners[i + 1] ?? corners[0] ?? corner;
      const [ex, ey] = [next.x - corner.x, next.y - corner.y];
      const across = to.x * ey - to.y * ex;
      const along = (corner.x * ey - corner.y * ex) / across;
      const beside = (corner.x * to.y - corner.y * to.x) / across;
      if (along > 0 && along < 1 && beside >= 0 && beside <= 1) shares.push(along);
    });
    shares.sort((one, other) => one - other);
    let inside: Line | undefined;
    for (let i = 0; i + 1 < shares.length; i++) {
      const [from, until] = [shares[i] ?? 0, shares[i + 1] ?? 1];
      const middle = (from + until) / 2;
      if (windings(ring, middle * to.x, middle * to.y) === 0) continue;
      inside = [inside?.[0] ?? from, until];
    }
    return inside;
  };
};

const screenedBy = (leg: Leg, watcher: Watcher, obstacle: Obstacle, tools: FactTools): readonly Interval[] => {
  const path = tools.ask(pathOfLeg, leg);
  const levels = tools.ask(legLevels, leg);
  const frame = flatFrame(watcher.at);
  const crossing = crossingOf(obstacle, frame);
  const top = topOf(obstacle, leg.flight.first, tools);
  const eye = eyeOf(watcher, tools);
  const looks = Math.min(MOST, Math.max(1, Math.ceil(path.length / APART)));
  const stretches: Interval[] = [];
  let before: number | undefined;
  for (let i = 0; i <= looks; i++) {
    const along = (path.length * i) / looks;
    const line = crossing(frame.place(path.at(along)));
    const craft = levels.least({ from: along, to: along });
    // Whoever stands in a footprint, on a roof or at a wall, looks out of it; a craft in one strikes the obstacle.
    const isHidden =
      line !== undefined && line[0] > 0 && line[1] < 1 && eye + line[craft < eye ? 1 : 0] * (craft - eye) < top;
    if (isHidden) stretches.push({ from: before ?? along, to: along });
    before = isHidden ? along : undefined;
  }
  return mergeIntervals(stretches);
};

/** What the leg strikes is told as that, and not as what it hides behind, too. */
const isStruck = (leg: Leg, obstacle: Obstacle, tools: FactTools): boolean => {
  const over = orLacking(() => legOverTop(leg, obstacle, metres(1), tools));
  return 'known' in over && over.known !== undefined && over.known.height <= 0;
};

/**
 * Where known obstacles hide the craft from each watcher along a leg. Looked for every two metres of
 * the leg; of a leg longer than a kilometre at five hundred places.
 */
export const legScreened = defineFact({
  name: 'leg-screened',
  derive: (leg: Leg, tools: FactTools): ScreenedFrom => {
    const path = tools.ask(pathOfLeg, leg);
    const { watchers, lacking: unplaced } = tools.ask(watchersOf, leg.flight.first);
    const lacking = [...tools.ask(knownObstacles, tools.plan).lacking, ...unplaced];
    const screened: Screened[] = [];
    for (const watcher of watchers) {
      for (const obstacle of obstaclesNear([watcher.at, path.from, path.to], 0, tools)) {
        if (obstacle.footprint === undefined && obstacle.radius < THIN) continue;
        if (isStruck(leg, obstacle, tools)) continue;
        const found = orLacking(() => screenedBy(leg, watcher, obstacle, tools));
        if ('missing' in found) lacking.push(found);
        else if (found.known.length > 0) screened.push({ watcher, obstacle, stretches: found.known });
      }
    }
    return { screened, lacking };
  },
});

/** How long a list of stretches is, in metres; each of them counts for at least the two metres between looks. */
export const screenedLength = (stretches: readonly Interval[]): Metres =>
  metres(stretches.reduce((sum, { from, to }) => sum + Math.max(APART, to - from), 0));
