import { legPath } from '../geo/geodesy.ts';
import { betweenShapes, nearestToShape } from '../geo/near-shape.ts';
import { edgesOf, roomOfShape, roomOnPath } from '../geo/room-inside.ts';
import type { Shape } from '../geo/shape.ts';
import type { AreaShape } from '../plan/model.ts';
import { type Metres, metres } from '../units/frames.ts';
import { areaShape, ringOfOutline, shapeOfOutline } from './area-shape.ts';
import type { FactTools } from './fact.ts';
import type { Course } from './height-near-people.ts';
import { itemPlace } from './item-place.ts';
import { pathOfLeg } from './leg-path.ts';

/** How far what is flown is from getting out of an outline, over the ground; 0 where it does. */
export const roomInArea = ({ leg, item }: Course, outline: AreaShape, tools: FactTools): Metres => {
  const area = shapeOfOutline(outline);
  if (leg !== undefined) return roomOnPath(tools.ask(pathOfLeg, leg), area);
  if (item.kind === 'area') return roomOfShape(tools.ask(areaShape, item).shape, area);
  const at = tools.ask(itemPlace, item);
  return roomOnPath(legPath(at, at), area);
};

/**
 * How far what is flown inside an outline is from the parts of its edge that lie in a zone; infinite where none does. A
 * circle is taken as a polygon whose corners are on it, which is up to 0.03 % of its radius narrower.
 */
export const roomInAreaOfZone = ({ leg, item }: Course, outline: AreaShape, zone: Shape, tools: FactTools): Metres => {
  const edges = edgesOf({ kind: 'polygons', polygons: [[ringOfOutline(outline)]] }, zone);
  if (edges.polygons.length === 0) return metres(Number.POSITIVE_INFINITY);
  if (leg !== undefined) return nearestToShape(tools.ask(pathOfLeg, leg), edges).distance;
  if (item.kind === 'area') return betweenShapes(tools.ask(areaShape, item).shape, edges);
  const at = tools.ask(itemPlace, item);
  return nearestToShape(legPath(at, at), edges).distance;
};
