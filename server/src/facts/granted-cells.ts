import { commonIntervals, freeOf, type Interval, mergeIntervals } from '../geo/interval.ts';
import { TOUCH } from '../geo/ring.ts';
import type { Shape } from '../geo/shape.ts';
import type { Zone } from '../world/zone.ts';
import type { FactTools } from './fact.ts';
import { present } from './fact.ts';
import { pathOfLeg } from './leg-path.ts';
import { entriesAtItem } from './volume-zones.ts';
import { entriesOnLeg } from './zone-entries.ts';
import type { ZoneVisit } from './zone-visits.ts';

/** A cell that a visit of a zone enters; of a leg with the stretches inside both. */
export interface EnteredCell {
  readonly cell: Zone & Required<Pick<Zone, 'grants'>>;
  readonly on?: readonly Interval[];
}

export interface EnteredCells {
  readonly cells: readonly EnteredCell[];
  /** Whether a part of the visit lies in no cell of the grid. */
  readonly leavesGrid: boolean;
}

const isCellOf = (grid: string, zone: Zone): zone is EnteredCell['cell'] => zone.grants?.grid === grid;

const allOf = (cells: readonly EnteredCell[]): Shape => ({
  kind: 'polygons',
  polygons: cells.flatMap(({ cell }) => (cell.shape.kind === 'polygons' ? cell.shape.polygons : [])),
});

/**
 * The cells of a grid that a visit of a zone enters. Along the edge between two cells the craft is in both. A cell that is
 * only touched at its edge on the way is not entered.
 */
export const cellsEntered = (visit: ZoneVisit, grid: string, tools: FactTools): EnteredCells => {
  const airspace = present(tools.world.airspace);
  if ('leg' in visit.of) {
    const { leg } = visit.of;
    const { length } = tools.ask(pathOfLeg, leg);
    const inZone = visit.intervals ?? [];
    const cells = entriesOnLeg(leg, airspace, tools).entries.flatMap(({ zone, intervals }): readonly EnteredCell[] => {
      if (!isCellOf(grid, zone)) return [];
      const on = commonIntervals(intervals, inZone).filter(({ from, to }) => to - from > TOUCH || length <= TOUCH);
      return on.length === 0 ? [] : [{ cell: zone, on }];
    });
    const covered = mergeIntervals(cells.flatMap(({ on }) => on ?? []));
    const outside = inZone.flatMap((stretch) => freeOf(covered, stretch));
    const leavesGrid = outside.some(({ from, to }) => to - from > TOUCH || covered.length === 0);
    return { cells, leavesGrid };
  }
  const cells = entriesAtItem(visit.of.item, airspace, tools).entries.flatMap(({ zone }): readonly EnteredCell[] =>
    isCellOf(grid, zone) ? [{ cell: zone }] : [],
  );
  return { cells, leavesGrid: visit.outside(allOf(cells)) !== undefined };
};
