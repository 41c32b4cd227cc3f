import type { Box } from '../geo/box.ts';
import type { LegPath } from '../geo/geodesy.ts';
import type { GroundProfile } from '../geo/height-grid.ts';
import type { Interval } from '../geo/interval.ts';
import type { SurfaceSearch } from '../geo/nearest-surface.ts';
import type { SheetCorner, UnderSheet } from '../geo/sheet-over-terrain.ts';
import type { CraftAltitude, SurfaceVerdict } from '../geo/surface-verdict.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import type { Instant, LonLat, Metres, MetresAboveSea } from '../units/frames.ts';
import type { Geoid } from './geoid.ts';
import type { MissingNeighbour, Neighbour } from './neighbour.ts';
import type { Obstacle } from './obstacle.ts';
import type { PeopleLayer } from './people.ts';
import type { Runways } from './runway.ts';
import type { LoadedReport } from './weather-report.ts';
import type { Zone } from './zone.ts';

/** All that a review needs from outside the plan: loaded before, frozen during, never fetched by a rule. */
export interface World {
  readonly terrain: Terrain | Missing;
  /** Surface models: the tops of trees and buildings. Absent where the plan names none. */
  readonly surface?: Terrain | Missing;
  /** Absent where the plan names none. */
  readonly geoid?: Geoid | Missing;
  readonly airspace: Airspace | Missing;
  /** Obstacles from files; those listed in the plan are in the plan. */
  readonly obstacles: readonly Obstacle[] | Missing;
  /** Why obstacles may be lacking although some are there: what is found counts, what is not found proves nothing. */
  readonly obstaclesIncomplete?: Missing;
  readonly people: PeopleLayer | Missing;
  readonly runways: Runways | Missing;
  readonly aircraft: Aircraft | Missing;
  /** The weather reports of the plan; absent where it has none. */
  readonly reports?: readonly LoadedReport[];
  /** The plans that this one names under `alongside`; absent where it names none. */
  readonly alongside?: readonly (Neighbour | MissingNeighbour)[];
  /** What went wrong with a reference, by the text of the reference. Each is one finding on the reference. */
  readonly problems: ReadonlyMap<string, readonly string[]>;
  readonly data: readonly Provenance[];
}

/** What is not there, and why: the start of a gap. */
export interface Missing {
  readonly missing: string;
  /** The earliest time at which it can exist; before that the gap is "not yet". */
  readonly due?: Instant;
}

export interface Provenance {
  readonly name: string;
  readonly edition: string;
  /** RFC 3339, where the source tells. */
  readonly retrieved?: string;
  /** Weather: it changes by the hour, and no statement about the ground is made for it. */
  readonly passing?: true;
}

export interface Terrain {
  /** The largest stated vertical error among the rasters. */
  readonly error: Metres;
  /** Ground height, or undefined where no raster has data. */
  groundAt(at: LonLat): MetresAboveSea | undefined;
  /** Side in metres of the cells that tell the ground at a place; undefined where no raster has data. */
  cellAt(at: LonLat): Metres | undefined;
  /** The ground along a path; stretches without data are in it as such. */
  groundAlong(path: LegPath): GroundProfile;
  /** Least and greatest ground within a shape's box cells; undefined where any of it has no data. */
  rangeWithin(ring: readonly LonLat[]):
    | {
        readonly least: MetresAboveSea;
        readonly greatest: MetresAboveSea;
        readonly leastAt: LonLat;
        readonly greatestAt: LonLat;
      }
    | undefined;
  /** The ground under a flat sheet of some hundreds of metres; `unknown` where a part of it has no data. */
  underSheet(corners: readonly SheetCorner[]): UnderSheet;
  /**
   * Whether a craft gets farther than a limit from the nearest ground, in three dimensions, on stretches of a path that it
   * flies in a straight line between two altitudes.
   */
  farFromGround(
    path: LegPath,
    start: MetresAboveSea,
    end: MetresAboveSea,
    stretches: readonly Interval[],
    limit: Metres,
  ): SurfaceVerdict;
  /** As `farFromGround` for any way of flying along a path, in steps of a millisecond or a few. */
  farFromGroundSteps(
    path: LegPath,
    craft: CraftAltitude,
    stretches: readonly Interval[],
    limit: Metres,
  ): Generator<void, SurfaceVerdict>;
  /** The nearest place of the ground within a radius of a craft, in three dimensions. */
  nearestGround(at: LonLat, altitude: MetresAboveSea, radius: Metres): SurfaceSearch;
  /** The same ground, all of it so many metres higher. */
  raisedBy(by: Metres): Terrain;
}

export interface Airspace {
  /** Zones whose box meets the given one, in the order of their files. */
  zonesIn(box: Box): readonly Zone[];
  /** True where the sources say they cover the box; false gives a gap. */
  covers(box: Box): boolean;
  /** Files that say from when until when they hold as a whole. */
  readonly holds?: readonly AirspaceHolds[];
}

/** An absent end is open. */
export interface AirspaceHolds {
  readonly reference: string;
  readonly from?: Instant;
  readonly until?: Instant;
}

export const isMissing = <T>(part: T | Missing): part is Missing =>
  typeof part === 'object' && part !== null && 'missing' in part;

export const emptyWorld = (why: string): World => ({
  terrain: { missing: why },
  airspace: { missing: why },
  obstacles: { missing: why },
  people: { missing: why },
  runways: { missing: why },
  aircraft: { missing: why },
  problems: new Map(),
  data: [],
});
