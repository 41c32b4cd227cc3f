import type { FactTools } from '../facts/fact.ts';
import { lackingLook } from '../facts/due.ts';
import { requireWhole } from '../facts/lacking.ts';
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
import type { Item, Plan } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { dateAt, sayDate } from '../units/calendar.ts';
import { metres } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';

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
  over(pass: ObstaclePass): OverTop | undefined;
}

/** The leg that ends at an item, and the area that the item is. */
const waysOf = (item: Item, tools: FactTools): readonly Way[] => {
  const ways: Way[] = [];
  const leg = routePlaceOf(item, tools).flight.legs.find((one) => one.to === item);
  if (leg !== undefined) {
    ways.push({
      name: `leg ${leg.from.id.value} to ${leg.to.id.value}`,
      near: tools.ask(legObstacles, leg),
      over: (pass) => legOverTop(leg, pass.obstacle, metres(0), tools),
    });
  }
  if (item.kind === 'area') {
    ways.push({
      name: `area ${item.id.value}`,
      near: tools.ask(areaObstacles, item),
      over: (pass) => areaOverTop(item, pass.obstacle, metres(0), tools),
    });
  }
  return ways;
};

export default defineRule({
  visits: 'item',
  title: 'the way runs through an obstacle',
  question: 'Does it hit anything?',
  level: 'stop',
  basis: 'physics',
  why: 'Masts, towers, trees and buildings are in no terrain file. An aircraft that flies its plan flies into them.',
  condition:
    'Over the footprint of each obstacle the leg, or the lower height of the area, is above its top. Obstacles come from the plan (`listed`), from files, or are ruled out by a statement of the crew (`none-above`, `seen`, `by`).',
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
    if (plan.obstacles === undefined) throw lackingLook(plan, 'the plan says nothing about obstacles');
    if (plan.obstacles.kind === 'statement') {
      const statement = statementOf(plan);
      if (statement === undefined) throw lackingLook(plan, 'the statement about obstacles needs none-above, seen and by');
      yield { declared: { at: plan.obstacles.span, because: statement } };
      return;
    }
    for (const way of waysOf(item, tools)) {
      for (const pass of way.near.passes) {
        const over = way.over(pass);
        if (over === undefined || over.height > 0.001) continue;
        const { height, craft, top, at, along } = over;
        yield {
          found: {
            at: item.id.span,
            subject: `${way.name} at ${pass.obstacle.name}`,
            message: `${way.name} passes ${sayNumber(Math.max(0, -height), 1)} m below the top of "${pass.obstacle.name}", which is ${sayNumber(top)} m above mean sea level`,
            measured: { value: craft, unit: 'm', frame: 'above sea' },
            limit: { value: top, unit: 'm', frame: 'above sea', setBy: `the obstacle "${pass.obstacle.name}"` },
            place: { at, ...(along === undefined ? {} : { alongM: along }), altitudeAmslM: craft },
          },
        };
      }
      requireWhole(way.near);
    }
  },
});
