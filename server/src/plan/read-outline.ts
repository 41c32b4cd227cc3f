import { amountOf, asList, asPosition, fieldOf, positionOf, type Section } from './fields.ts';
import type { AreaShape } from './model.ts';

/** An outline over the ground: a circle around a place, or a polygon. */
export const readOutline = (section: Section): AreaShape | undefined => {
  const radius = amountOf(section, 'circle', 'length');
  const around = positionOf(section, 'around');
  if (radius !== undefined && around !== undefined) return { kind: 'circle', radius, around };
  const polygon = fieldOf(section, 'polygon');
  if (polygon === undefined) return undefined;
  const { node } = polygon;
  const corners = asList(polygon);
  const ring = corners.flatMap((corner) => asPosition(corner) ?? []);
  // An outline that lacks a corner would be another outline.
  return node.kind === 'sequence' && ring.length === node.items.length && ring.length >= 3
    ? { kind: 'polygon', ring }
    : undefined;
};
