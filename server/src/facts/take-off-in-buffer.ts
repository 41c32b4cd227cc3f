import { nearestToShape } from '../geo/near-shape.ts';
import { distanceToShape } from '../geo/shape.ts';
import type { Flight, Plan } from '../plan/model.ts';
import { type LonLat, type Metres, type MetresAboveGround, metres } from '../units/frames.ts';
import type { Neighbour } from '../world/neighbour.ts';
import type { Missing } from '../world/world.ts';
import { courseBuffer, courseVolume } from './course-volume.ts';
import { defineFact, type FactTools } from './fact.ts';
import { type FlownSpace, flownSpaces } from './flown-space.ts';
import { reachNear } from './height-near-people.ts';
import { itemPlace } from './item-place.ts';
import { orLacking, type Partly } from './lacking.ts';
import { commonTime, lackingOf } from './meetings.ts';
import { neighbours, neighbourTools } from './neighbours.ts';
import { type TimeBand, timeline } from './timeline.ts';

/** A take-off place, where a crew is while its flight lasts. */
interface Pad {
  readonly name: string;
  readonly at: LonLat;
  readonly times: TimeBand;
}

/** A take-off place of one plan inside the ground risk buffer of a flight of the other. */
export interface PadInBuffer {
  readonly neighbour: Neighbour;
  readonly pad: string;
  /** Whose place it is; the flight is the other plan's. */
  readonly padOf: 'this plan' | 'the neighbour';
  readonly space: FlownSpace;
  readonly at: LonLat;
  readonly distance: Metres;
  /** From what is flown to the edge of the ground risk buffer. */
  readonly reach: Metres;
  readonly height: MetresAboveGround;
  readonly times: TimeBand;
}

export interface PadsInBuffers extends Partly {
  /** For each plan alongside the place that lies deepest inside. */
  readonly pads: readonly PadInBuffer[];
}

const padOf = (flight: Flight, tools: FactTools): Pad => {
  const { takeOff, landing } = tools.ask(timeline, flight);
  return {
    name: flight.first.id.value,
    at: tools.ask(itemPlace, flight.first),
    times: { earliest: takeOff.earliest, latest: landing.latest },
  };
};

type Inside = Omit<PadInBuffer, 'neighbour' | 'padOf'>;

const insideOf = (space: FlownSpace, pad: Pad, tools: FactTools): Inside | undefined => {
  const times = commonTime(space.times, pad.times);
  if (times === undefined) return undefined;
  const shape = { kind: 'circle', centre: pad.at, radius: metres(0) } as const;
  const away =
    space.path === undefined
      ? distanceToShape(space.area?.shape ?? shape, pad.at)
      : nearestToShape(space.path, shape).distance;
  // No buffer reaches farther: whether one is needed is asked first.
  if (away > FARTHEST) return undefined;
  const volume = courseVolume(space.course, tools);
  const reachAt = (height: MetresAboveGround): Metres => metres(volume.beside + courseBuffer(volume, height, tools));
  const near = reachNear(space.course, shape, away, reachAt, tools);
  if (near === undefined || near.reach - away <= 0.001) return undefined;
  return { pad: pad.name, space, at: pad.at, distance: away, reach: near.reach, height: near.height, times };
};

/** No ground risk buffer of a craft that a plan can describe is wider, in metres. */
const FARTHEST = 10_000;

interface Searched extends Partly {
  readonly deepest: Inside | undefined;
}

/** The deepest of the take-off places of one plan inside the buffers of flights of another, whose tools are given. */
const deepestPad = (pads: readonly Pad[], flights: readonly Flight[], tools: FactTools): Searched => {
  const lacking: Missing[] = [];
  let deepest: Inside | undefined;
  for (const flight of flights) {
    const known = tools.ask(flownSpaces, flight);
    lacking.push(...known.lacking);
    for (const space of known.spaces) {
      for (const pad of pads) {
        const inside = orLacking(() => insideOf(space, pad, tools));
        if ('missing' in inside) lacking.push(inside);
        else if (inside.known !== undefined && depth(inside.known) > depth(deepest)) deepest = inside.known;
      }
    }
  }
  return { deepest, lacking };
};

const depth = (inside: Inside | undefined): number => (inside === undefined ? 0 : inside.reach - inside.distance);

const padsOf = (plan: Plan, tools: FactTools): Partly & { readonly pads: readonly Pad[] } => {
  const lacking: Missing[] = [];
  const pads = plan.flights.flatMap((flight): Pad[] => {
    const pad = orLacking(() => padOf(flight, tools));
    if ('known' in pad) return [pad.known];
    lacking.push(pad);
    return [];
  });
  return { pads, lacking };
};

/** Take-off places of this plan and of those alongside that lie inside the ground risk buffer of a flight of the other. */
export const padsInBuffers = defineFact({
  name: 'pads-in-buffers',
  derive: (plan: Plan, tools: FactTools): PadsInBuffers => {
    const { known, lacking: unread } = tools.ask(neighbours, tools.plan);
    const lacking: Missing[] = [...unread];
    if (known.length === 0) return { pads: [], lacking };
    const own = padsOf(plan, tools);
    lacking.push(...own.lacking);
    const pads = known.flatMap((neighbour): PadInBuffer[] => {
      const others = tools.ask(neighbourTools, neighbour);
      const theirs = padsOf(neighbour.plan, others);
      const below = deepestPad(theirs.pads, plan.flights, tools);
      const above = deepestPad(own.pads, neighbour.plan.flights, others);
      lacking.push(
        ...below.lacking,
        ...[...theirs.lacking, ...above.lacking].map((each) => lackingOf(neighbour, each)),
      );
      const [deepest] = [
        ...(below.deepest === undefined ? [] : [{ ...below.deepest, padOf: 'the neighbour' as const }]),
        ...(above.deepest === undefined ? [] : [{ ...above.deepest, padOf: 'this plan' as const }]),
      ].sort((one, other) => depth(other) - depth(one));
      return deepest === undefined ? [] : [{ ...deepest, neighbour }];
    });
    return { pads, lacking };
  },
});
