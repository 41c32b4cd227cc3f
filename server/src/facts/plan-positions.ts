import { boxAround } from '../geo/box.ts';
import { distance } from '../geo/geodesy.ts';
import { writtenPositions } from '../plan/item-positions.ts';
import type { Plan, WrittenPosition } from '../plan/model.ts';
import { defineFact } from './fact.ts';
import { sayMember } from './watchers.ts';

/** No flight within sight reaches this far from its other places, in metres. Common practice, no source. */
export const FAR = 20_000;

/** A position that stands in the plan, and whose it is. */
export interface Position {
  readonly name: string;
  readonly at: WrittenPosition;
}

const positionsOf = (plan: Plan): readonly Position[] => {
  const positions: Position[] = [];
  if (plan.site.takeOff?.at !== undefined) positions.push({ name: 'the take-off', at: plan.site.takeOff.at });
  for (const item of plan.items) {
    for (const { what, at } of writtenPositions(item)) {
      positions.push({ name: what === 'corner' ? `a corner of ${item.id.value}` : item.id.value, at });
    }
  }
  const members = [...(plan.crew.pilot === undefined ? [] : [plan.crew.pilot]), ...plan.crew.observers];
  for (const member of members) {
    const { stands } = member;
    // The spread keeps the parts that a position in braces has.
    if (stands !== undefined && typeof stands.value !== 'string')
      positions.push({ name: sayMember(member), at: { ...stands, value: stands.value } });
  }
  for (const obstacle of plan.obstacles?.kind === 'list' ? plan.obstacles.listed : []) {
    if (obstacle.at !== undefined) positions.push({ name: `obstacle ${obstacle.name.value}`, at: obstacle.at });
  }
  return positions;
};

/** More than a degree of latitude is long anywhere, and than one of longitude at the equator, in metres. */
const LONGEST_DEGREE = 112_000;

/** Whether the box around all is so small that nothing in it can be far from anything else. */
const areTogether = (positions: readonly Position[]): boolean => {
  const box = boxAround(positions.map(({ at }) => at.value));
  if (box === undefined) return true;
  const width = (box.east - box.west + 360) % 360;
  return (box.north - box.south + width) * LONGEST_DEGREE <= FAR;
};

/** The position of the plan that has most others near it: where the flight is. The take-off wins a draw. */
const middleOf = (positions: readonly Position[], together: boolean): Position | undefined => {
  if (together) return positions[0];
  let best: { position: Position; near: number } | undefined;
  for (const position of positions.slice(0, 50)) {
    const near = positions.filter((other) => distance(position.at.value, other.at.value) <= FAR).length;
    if (best === undefined || near > best.near) best = { position, near };
  }
  return best?.position;
};

export interface PlanPositions {
  readonly positions: readonly Position[];
  /** True where no two of them can be far from each other. */
  readonly together: boolean;
  /** Absent where the plan has no position. */
  readonly middle: Position | undefined;
}

/** All positions that are written in a plan, and the one around which most of them lie. */
export const planPositions = defineFact({
  name: 'plan-positions',
  derive: (plan: Plan): PlanPositions => {
    const positions = positionsOf(plan);
    const together = areTogether(positions);
    return { positions, together, middle: middleOf(positions, together) };
  },
});
