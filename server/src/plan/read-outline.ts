import { amountOf, asList, asPosition, type Field, fieldOf, positionOf, type Section } from './fields.ts';
import type { AreaShape, WrittenPosition } from './model.ts';

/** An outline over the ground: a circle around a place, or a polygon. */
export const readOutline = (section: Section): AreaShape | undefined => {
  const radius = amountOf(section, 'circle', 'length');
  const around = positionOf(section, 'around');
  if (radius !== undefined && around !== undefined) return { kind: 'circle', radius, around };
  const ring = readRing(fieldOf(section, 'polygon'));
  return ring && { kind: 'polygon', ring };
};

/** The corners of a ring; undefined unless all of them could be read: without a corner it would be another outline. */
export const readRing = (field: Field | undefined): readonly WrittenPosition[] | undefined => {
  if (field === undefined) return undefined;
  const ring = asList(field).flatMap((corner) => asPosition(corner) ?? []);
  const { node } = field;
  return node.kind === 'sequence' && ring.length === node.items.length && ring.length >= 3 ? ring : undefined;
};
