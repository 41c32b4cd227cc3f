import { type Box, boxAround, growBox } from '../geo/box.ts';
import { reachBeyondPositions, writtenPositions } from '../plan/item-positions.ts';
import type { Plan } from '../plan/model.ts';

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
    | 'plan'
    | 'reports';
  /** The reference as the plan has it. */
  readonly reference: string;
}

/** Room around the route in metres: the nearest surface (120 m), a zone's edge, a structure beside the leg. */
const ROOM = 1000;

export const needsOf = (plan: Plan): Needs => {
  const takeOff = plan.site.takeOff?.at?.value;
  const places = plan.items
    .flatMap((item) => writtenPositions(item).map(({ at }) => at.value))
    .concat(takeOff === undefined ? [] : [takeOff]);
  const around = boxAround(places);
  const reach = plan.items.reduce((most, item) => Math.max(most, reachBeyondPositions(item)), 0);
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
  for (const reference of plan.alongside) files.push({ role: 'plan', reference: reference.value });
  if (plan.aircraft !== undefined) files.push({ role: 'aircraft', reference: plan.aircraft.value });
  for (const reference of plan.weather.reports ?? []) files.push({ role: 'reports', reference: reference.value });
  return { box: around === undefined ? undefined : growBox(around, ROOM + reach), files };
};
