import { lackingLook } from '../facts/due.ts';
import type { FactTools } from '../facts/fact.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import {
  areaObstacles,
  areaOverTop,
  legObstacles,
  legOverTop,
  type ObstaclePass,
  type ObstaclePasses,
  type OverTop,
} from '../facts/obstacle-passes.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import { type BelowSurface, surfacePass } from '../facts/surface-pass.ts';
import type { Item, Leg, Plan } from '../plan/model.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { dateAt, sayDate } from '../units/calendar.ts';
import { type Metres, metres } from '../units/frames.ts';
import { sayDistance, sayNumber } from '../units/say.ts';
import { isMissing, type Missing } from '../world/world.ts';

/** The crew's statement, for the matrix; undefined where the plan has none or only a part of one. */
const statementOf = (plan: Plan): string | undefined => {
  const { obstacles } = plan;
  if (obstacles?.kind !== 'statement' || obstacles.noneAbove === undefined) return undefined;
  if (obstacles.seen === undefined || obstacles.by === undefined) return undefined;
  const seen = obstacles.seen.value;
  const day = 'date' in seen ? seen.date : dateAt(seen.time.at, seen.time.offsetMinutes);
  return `nothing stands higher than ${sayNumber(obstacles.noneAbove.number)} ${obstacles.noneAbove.unit} ${obstacles.noneAbove.datum}, seen ${sayDate(day)} by ${obstacles.by.value}`;
};

interface Way {
  readonly name: string;
  readonly near: ObstaclePasses;
  readonly byHand: boolean;
  /** How high over the top; by an aircraft that reaches so far to either side, or that of the plan. */
  over(pass: ObstaclePass, reach?: Metres): OverTop | undefined;
}

/** The aircraft itself reaches this far to either side of its path; undefined where its size is not known. */
const halfOfAircraft = ({ world }: FactTools): Metres | undefined => {
  const size = isMissing(world.aircraft) ? undefined : world.aircraft.size?.value;
  return size === undefined ? undefined : metres(size / 2);
};

/** No aircraft below 25 kg reaches farther than this to either side of its path, in metres: from memory. */
const WIDEST = 5;

/** That an obstacle stands so near to the way that the size of the aircraft decides, and the size is not known. */
const lackingSize = (way: Way, pass: ObstaclePass, tools: FactTools): Missing | undefined => {
  if (way.byHand || pass.beside > WIDEST || halfOfAircraft(tools) !== undefined) return undefined;
  const over = way.over(pass, metres(pass.beside + 0.001));
  if (over === undefined || over.height > 0.001) return undefined;
  return {
    missing: `${way.name} passes ${sayNumber(pass.beside)} m beside "${pass.obstacle.name}", and the size of the aircraft is not known`,
  };
};

/** The leg that ends at an item, and the area that the item is. */
const waysOf = (item: Item, tools: FactTools): readonly Way[] => {
  const ways: Way[] = [];
  const leg = routePlaceOf(item, tools).arriving;
  if (leg !== undefined) {
    ways.push({
      name: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
      near: tools.ask(legObstacles, leg),
      byHand: false,
      over: (pass, reach = halfOfAircraft(tools) ?? metres(0)) => legOverTop(leg, pass.obstacle, reach, tools),
    });
  }
  if (item.kind === 'area') {
    ways.push({
      name: `area ${item.id.value}`,
      near: tools.ask(areaObstacles, item),
      byHand: true,
      over: (pass) => areaOverTop(item, pass.obstacle, metres(0), tools),
    });
  }
  return ways;
};

const complaint = (item: Item, way: Way, obstacle: string, over: OverTop): Complaint => {
  const { height, craft, top, at, along } = over;
  const below = sayNumber(Math.max(0, -height), 1);
  return {
    at: item.id.span,
    subject: `${way.name} at ${obstacle}`,
    // Whoever flies an area by hand often goes there for the sake of what stands in it, and looks at it.
    ...(way.byHand ? { level: 'note' as const } : {}),
    message: way.byHand
      ? `${way.name} is flown by hand around "${obstacle}", whose top at ${sayNumber(top)} m above mean sea level is ${below} m above the lower height of the area; the obstacle sets that`
      : `${way.name} passes ${height > -0.05 ? 'at the height of' : `${below} m below`} the top of "${obstacle}", which is ${sayNumber(top)} m above mean sea level`,
    measured: { value: craft, unit: 'm', frame: 'above sea' },
    limit: { value: top, unit: 'm', frame: 'above sea', setBy: `the obstacle "${obstacle}"` },
    place: { at, ...(along === undefined ? {} : { alongM: along }), altitudeAmslM: craft },
  };
};

/** The leg that ends at an item, below what a surface model shows. */
const belowSurface = (item: Item, leg: Leg, below: BelowSurface): Complaint => {
  const name = `leg ${leg.from.id.value} to ${leg.to.id.value}`;
  const { height, craft, surface, at, along } = below;
  const how = height > -0.05 ? 'at the height of' : `${sayNumber(-height, 1)} m below`;
  return {
    at: item.id.span,
    subject: `${name} at the surface`,
    message: `${name} passes ${how} the tops that the surface model shows ${sayDistance(along)} along, at ${sayNumber(surface)} m above mean sea level`,
    measured: { value: craft, unit: 'm', frame: 'above sea' },
    limit: { value: surface, unit: 'm', frame: 'above sea', setBy: 'the surface model' },
    place: { at, alongM: along, altitudeAmslM: craft },
  };
};

export default defineRule({
  visits: 'item',
  title: 'the way runs through an obstacle',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'Masts, towers, trees and buildings are in no terrain file. An aircraft that flies its plan flies into them.',
  condition:
    'Over the footprint of each obstacle, and half the size of the aircraft beside it, each leg is above its top. An obstacle that stands up into an area flown by hand is a note: the pilot flies there by eye, often for its sake. Obstacles come from the plan (`listed`), from files, or are ruled out by a statement of the crew (`none-above`, `seen`, `by`). A surface model (`terrain: [{ file: roofs.tif, is: surface }]`) adds what it shows: each leg is above it too. It does not show masts and wires, so the plan still says what is known of those. Areas are flown by eye and not compared with it.',
  mend: 'Raise the leg over the obstacle or lead it around. Where nothing stands up, say so: `obstacles: { none-above: 20 m AGL, seen: DATE, by: pilot }`.',
  sources: [
    { cite: '14 CFR 107.49(a)(4), ground hazards', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: 'the obstacle', edition: 'as the plan or its file states', trust: 'common practice, no source' },
  ],
  needs: ['obstacles', 'terrain'],
  declarable: true,
  example: {
    faulty:
      'obstacles: { listed: [{ name: radio mast, at: { lat: 47.5, lon: -120.499 }, top: 75 m AGL, radius: 5 m }] }\n',
    sound:
      'obstacles: { listed: [{ name: radio mast, at: { lat: 47.5, lon: -120.499 }, top: 45 m AGL, radius: 5 m }] }\n',
  },

  *check(item, tools) {
    const { plan } = tools;
    const lacking: Missing[] = [];
    const leg = routePlaceOf(item, tools).arriving;
    const surface = leg === undefined ? { known: undefined } : orLacking(() => tools.ask(surfacePass, leg));
    if ('missing' in surface) lacking.push(surface);
    else if (surface.known !== undefined && leg !== undefined) {
      const { below } = surface.known;
      if (below !== undefined) yield { found: belowSurface(item, leg, below) };
      lacking.push(...surface.known.lacking);
    }
    if (plan.obstacles === undefined) throw lackingLook(plan, 'the plan says nothing about obstacles');
    if (plan.obstacles.kind === 'statement') {
      const statement = statementOf(plan);
      if (statement === undefined)
        throw lackingLook(plan, 'the statement about obstacles needs none-above, seen and by');
      requireWhole({ lacking });
      yield { declared: { at: plan.obstacles.span, because: statement } };
      return;
    }
    for (const way of waysOf(item, tools)) {
      lacking.push(...way.near.lacking);
      for (const pass of way.near.passes) {
        const height = orLacking(() => way.over(pass));
        if ('missing' in height) lacking.push(height);
        else if (height.known !== undefined && !(height.known.height > 0.001)) {
          yield { found: complaint(item, way, pass.obstacle.name, height.known) };
        } else {
          const size = lackingSize(way, pass, tools);
          if (size !== undefined) lacking.push(size);
        }
      }
    }
    requireWhole({ lacking });
  },
});
