import type { FactTools } from '../../server/src/facts/fact.ts';
import type { HeightGrid } from '../../server/src/geo/height-grid.ts';
import type { Item, Leg, Plan } from '../../server/src/plan/model.ts';
import { readPlan } from '../../server/src/plan/read.ts';
import { NO_SETTINGS, type Settings } from '../../server/src/plan/settings.ts';
import { memo } from '../../server/src/review/memo.ts';
import { instant } from '../../server/src/units/frames.ts';
import { flatGrid, type Lattice } from '../../server/src/world/small-grid.ts';
import { terrainOf } from '../../server/src/world/terrain-of-grids.ts';
import { emptyWorld, type World } from '../../server/src/world/world.ts';

/** A raster of some six kilometres around 47.5 north, 120.5 west, where the plans of these tests fly. */
export const LATTICE: Lattice = { west: -120.54, north: 47.53, step: 1 / 3600, columns: 289, rows: 217 };

export const LEVEL_GROUND = flatGrid(LATTICE, 400, 3);

export const worldWith = (grids: readonly HeightGrid[], rest: Partial<World> = {}): World => ({
  ...emptyWorld('the test has none'),
  ...(grids.length > 0 ? { terrain: terrainOf(grids.map((grid) => ({ grid }))) } : {}),
  ...rest,
});

export interface MadePlan {
  readonly plan: Plan;
  readonly tools: FactTools;
  item(id: string): Item;
  /** The leg that ends at an item. */
  legTo(id: string): Leg;
}

/** Reads a plan from its route and whatever else of its head matters, and has facts worked out in a world. */
export const madePlan = (text: string, world: World, settings: Settings = NO_SETTINGS): MadePlan => {
  const plan = readPlan(`mission: 1\ntitle: made for a test\n${text}`, 'made.mission.yaml');
  const tools = memo({ plan, world, settings, ruleSet: 'us-part-107', now: instant(0) });
  const found = <T>(value: T | undefined, what: string): T => {
    if (value === undefined) throw new Error(`the test's plan has no ${what}: ${plan.slips.map((slip) => slip.kind)}`);
    return value;
  };
  return {
    plan,
    tools,
    item: (id) =>
      found(
        plan.items.find((item) => item.id.value === id),
        `item ${id}`,
      ),
    legTo: (id) =>
      found(
        plan.flights.flatMap((flight) => flight.legs).find((leg) => leg.to.id.value === id),
        `leg to ${id}`,
      ),
  };
};

export const SITE = 'site: { take-off: { lat: 47.5, lon: -120.5, elevation: 402 m } }\n';
