import type { CrewMember, Item, Plan, WrittenHeight } from '../plan/model.ts';
import type { LonLat, MetresAboveSea } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { elevationGap } from './elevation-gap.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { groundAtPlace } from './ground-at-place.ts';
import { groundOfItem } from './item-height.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { takeOffElevation } from './take-off-elevation.ts';

/**
 * A person who watches the aircraft. The eyes are taken at ground height: a standing person is some 1.7 m higher, which
 * changes no slant range by as much.
 */
export interface Watcher {
  readonly member: CrewMember;
  readonly at: LonLat;
  readonly ground: MetresAboveSea;
  /** The plan's elevation of the take-off place beside which the person stands, where the terrain contradicts it. */
  readonly takeOff?: MetresAboveSea;
}

export interface Watchers extends Partly {
  readonly watchers: readonly Watcher[];
}

/**
 * The ground by the plan's own elevation of the take-off place. Where the terrain contradicts it, what is written above
 * take-off is seen from that elevation and all else from the terrain, so that a slip in one number does not come back as a
 * question of sight.
 */
const atTakeOff = (first: Item, tools: FactTools): Omit<Watcher, 'member'> => {
  const at = tools.ask(itemPlace, first);
  const elevation = tools.ask(takeOffElevation, first).value;
  const gap = orLacking(() => elevationGap(first, tools));
  if ('missing' in gap || gap.known === undefined) return { at, ground: elevation };
  return { at, ground: groundOfItem(first, at, tools), takeOff: elevation };
};

/** Ground of a watcher under a height: see `Watcher.takeOff`. */
export const groundUnder = (watcher: Watcher, written: WrittenHeight | undefined): MetresAboveSea =>
  written?.datum === 'above take-off' ? (watcher.takeOff ?? watcher.ground) : watcher.ground;

export const sayMember = (member: CrewMember): string =>
  member.name === undefined ? `the ${member.role}` : `${member.role} ${member.name.value}`;

const placeOf = (member: CrewMember, first: Item, plan: Plan, tools: FactTools): Omit<Watcher, 'member'> => {
  const stands = given(member.stands, `the place where ${sayMember(member)} stands`).value;
  if (stands === 'take-off') return atTakeOff(first, tools);
  if (stands !== 'beside pilot') return { at: stands, ground: groundAtPlace(stands, sayMember(member), tools) };
  const pilot = given(plan.crew.pilot, 'the pilot, beside whom an observer stands,');
  const pilotStands = given(pilot.stands, 'the place where the pilot stands').value;
  if (pilotStands === 'beside pilot') return given<Watcher>(undefined, 'the place where the pilot stands');
  return placeOf(pilot, first, plan, tools);
};

/** The crew who watch a flight, by the flight's first item. Pilot first, then observers as the plan has them. */
export const watchersOf = defineFact({
  name: 'watchers',
  derive: (first: Item, tools: FactTools): Watchers => {
    const { crew } = tools.plan;
    const pilot = orLacking(() => given(crew.pilot, 'the pilot'));
    const members = [...('known' in pilot ? [pilot.known] : []), ...crew.observers];
    const watchers: Watcher[] = [];
    const lacking: Missing[] = 'missing' in pilot ? [pilot] : [];
    for (const member of members) {
      const place = orLacking(() => placeOf(member, first, tools.plan, tools));
      if ('missing' in place) lacking.push(place);
      else watchers.push({ member, ...place.known });
    }
    return { watchers, lacking };
  },
});
