import { type Box, boxAround, growBox } from '../geo/box.ts';
import { outlineOf } from '../plan/flights.ts';
import type { Item, Plan } from '../plan/model.ts';
import type { LonLat } from '../units/frames.ts';

/** What a plan needs from outside, asked before the review runs. */
export interface Needs {
  /** Ground the flight can touch, with room for a return from anywhere on it; undefined without a position. */
  readonly box: Box | undefined;
  readonly files: readonly FileNeed[];
}

export interface FileNeed {
  readonly role:
    | 'terrain'
    | 'geoid'
    | 'airspace'
    | 'mapping'
    | 'obstacles'
    | 'people'
    | 'runways'
    | 'aircraft'
    | 'reports';
  /** The reference as the plan has it. */
  readonly reference: string;
}

/** Room around the route in metres: the nearest surface (120 m), a zone's edge, a structure beside the leg. */
const ROOM = 1000;

const positionsOf = (item: Item): readonly LonLat[] => {
  const places: LonLat[] = item.at === undefined ? [] : [item.at.value];
  const inside = outlineOf(item);
  if (inside?.kind === 'circle') places.push(inside.around.value);
  if (inside?.kind === 'polygon') places.push(...inside.ring.map((corner) => corner.value));
  return places;
};

/** Room that a circle needs beyond its centre. */
const reachOf = (item: Item): number => {
  const inside = outlineOf(item);
  return inside?.kind === 'circle' ? inside.radius.value : 0;
};

export const needsOf = (plan: Plan): Needs => {
  const takeOff = plan.site.takeOff?.at?.value;
  const places = plan.items.flatMap(positionsOf).concat(takeOff === undefined ? [] : [takeOff]);
  const around = boxAround(places);
  const reach = plan.items.reduce((most, item) => Math.max(most, reachOf(item)), 0);
  const files: FileNeed[] = [];
  for (const reference of plan.terrain) files.push({ role: 'terrain', reference: reference.value });
  if (plan.geoid !== undefined) files.push({ role: 'geoid', reference: plan.geoid.value });
  for (const { value, mapping } of plan.airspace) {
    files.push({ role: 'airspace', reference: value });
    if (mapping !== undefined) files.push({ role: 'mapping', reference: mapping.value });
  }
  if (plan.obstacles?.kind === 'list') {
    for (const reference of plan.obstacles.files) files.push({ role: 'obstacles', reference: reference.value });
  }
  for (const reference of plan.people?.files ?? []) files.push({ role: 'people', reference: reference.value });
  for (const reference of plan.runways) files.push({ role: 'runways', reference: reference.value });
  if (plan.aircraft !== undefined) files.push({ role: 'aircraft', reference: plan.aircraft.value });
  for (const reference of plan.weather.reports ?? []) files.push({ role: 'reports', reference: reference.value });
  return { box: around === undefined ? undefined : growBox(around, ROOM + reach), files };
};
