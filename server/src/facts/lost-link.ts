import type { Flight, Item, ItemKind, LostLink, Plan, WrittenHeight } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import type { LonLat } from '../units/frames.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { itemPlace } from './item-place.ts';

/** The way that an aircraft flies by itself once the link is lost: up to a height, then straight to a place. */
export interface WayHome {
  readonly to: LonLat;
  /** "home" */
  readonly name: string;
  /** The height that it climbs to first; higher already, it stays. Absent = it stays at the height it has. */
  readonly climbTo?: WrittenHeight;
  /** The one field of the plan that is to blame for whatever lies in its way. */
  readonly written: Span;
  /** Heights above take-off count from this item's place. */
  readonly first: Item;
}

/** The field that findings about the way home stand on: the height to climb to, else what is done, else all of it. */
export const fieldOf = ({ climbTo, action, span }: LostLink): Span => climbTo?.span ?? action?.span ?? span;

const HAS_PLACE: ReadonlySet<ItemKind> = new Set(['take-off', 'land', 'point']);

/** The names that `fly to` may give: those of the items that have one place. */
export const placeNames = ({ items }: Plan): readonly string[] =>
  items.filter(({ kind }) => HAS_PLACE.has(kind)).map(({ id }) => id.value);

/** Undefined where the plan has no such place: that is told once, by `lost-link-unplanned`. */
const placeNamed = (
  lostLink: LostLink,
  tools: FactTools,
): { readonly to: LonLat; readonly name: string } | undefined => {
  const name = given(lostLink.to, 'the place that the aircraft flies to after a lost link').value;
  if (lostLink.at !== undefined) return { to: lostLink.at.value, name };
  if (!placeNames(tools.plan).includes(name)) return undefined;
  const item = tools.plan.items.find(({ kind, id }) => id.value === name && HAS_PLACE.has(kind));
  return item && { to: tools.ask(itemPlace, item), name };
};

/**
 * The way that the plan has for a lost link on a flight; undefined where it has none or the aircraft stays where it is or
 * carries on. It flies back to where the flight took off.
 */
export const wayHome = defineFact({
  name: 'way-after-lost-link',
  derive: (flight: Flight, tools: FactTools): WayHome | undefined => {
    const { lostLink } = tools.plan;
    const action = lostLink?.action?.value;
    if (lostLink === undefined || (action !== 'fly back and land' && action !== 'fly to')) return undefined;
    const place =
      action === 'fly to'
        ? placeNamed(lostLink, tools)
        : { to: tools.ask(itemPlace, flight.first), name: flight.first.id.value };
    if (place === undefined) return undefined;
    return {
      ...place,
      ...(lostLink.climbTo === undefined ? {} : { climbTo: lostLink.climbTo }),
      written: fieldOf(lostLink),
      first: flight.first,
    };
  },
});
