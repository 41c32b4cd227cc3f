import { flownItems } from '../facts/flown-legs.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import {
  areaObstacles,
  areaOverTop,
  legObstacles,
  legOverTop,
  type ObstaclePass,
  type OverTop,
} from '../facts/obstacle-passes.ts';
import { routePlaceOf } from '../facts/route-order.ts';
import type { Flight } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { exceeds, outdoes } from '../units/exceeds.ts';
import { aboveSea, metres } from '../units/frames.ts';
import { sayCount, sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** Metres beside a guyed mast below whose top wires are to be expected. Common practice, no source. */
const ROOM = metres(50);

interface Near {
  readonly name: string;
  readonly written: Span;
  readonly pass: ObstaclePass;
  readonly over: OverTop;
}

export default defineRule({
  visits: 'flight',
  title: 'the way runs low beside a mast that is held by wires',
  question: 'Does it hit anything?',
  level: 'caution',
  basis: 'practice',
  why: 'Guy wires run from a mast far out to the ground. They are thin, no camera shows them and no obstacle file has them, and an aircraft that meets one falls.',
  condition:
    'Within 50 m (164 ft) of an obstacle that is marked with guy wires no leg and no area is below its top, measured from the nearest part of its footprint.',
  mend: 'Stay 50 m away or above the top. Where the mast itself is looked at, walk the anchors first and accept this with the reason.',
  sources: [{ cite: 'room beside guyed masts', edition: '2026-11-25', trust: 'common practice, no source' }],
  needs: ['obstacles', 'terrain'],
  example: {
    faulty:
      'obstacles: { listed: [{ name: radio mast, at: { lat: 47.5002, lon: -120.499 }, top: 75 m AGL, guy-wires: yes }] }\n',
    sound:
      'obstacles: { listed: [{ name: radio mast, at: { lat: 47.5006, lon: -120.499 }, top: 75 m AGL, guy-wires: yes }] }\n',
  },

  *check(flight: Flight, tools) {
    if (tools.plan.obstacles?.kind !== 'list') return;
    const near: Near[] = [];
    const lacking: Missing[] = [];
    const take = (
      name: string,
      written: Span,
      passes: readonly ObstaclePass[],
      overTop: (pass: ObstaclePass) => OverTop | undefined,
    ): void => {
      for (const pass of passes) {
        if (pass.obstacle.guyWires !== true || exceeds(pass.beside, ROOM)) continue;
        const over = orLacking(() => overTop(pass));
        if ('missing' in over) lacking.push(over);
        else if (over.known !== undefined && exceeds(aboveSea(over.known.top), aboveSea(over.known.craft)))
          near.push({ name, written, pass, over: over.known });
      }
    };
    for (const item of tools.ask(flownItems, flight)) {
      const leg = routePlaceOf(item, tools).arriving;
      const onLeg = leg === undefined ? undefined : orLacking(() => tools.ask(legObstacles, leg));
      if (onLeg !== undefined) lacking.push(...('missing' in onLeg ? [onLeg] : onLeg.known.lacking));
      if (leg !== undefined && onLeg !== undefined && 'known' in onLeg)
        take(`leg ${leg.from.id.value} to ${leg.to.id.value}`, item.id.span, onLeg.known.passes, (pass) =>
          legOverTop(leg, pass.obstacle, ROOM, tools),
        );
      const around = item.kind === 'area' ? orLacking(() => tools.ask(areaObstacles, item)) : undefined;
      if (around !== undefined) lacking.push(...('missing' in around ? [around] : around.known.lacking));
      if (around !== undefined && 'known' in around)
        take(`area ${item.id.value}`, item.id.span, around.known.passes, (pass) =>
          areaOverTop(item, pass.obstacle, ROOM, tools),
        );
    }
    const byMast = new Map<ObstaclePass['obstacle'], Near[]>();
    for (const one of near) byMast.set(one.pass.obstacle, [...(byMast.get(one.pass.obstacle) ?? []), one]);
    for (const [mast, ways] of byMast) {
      const [first] = ways;
      if (first === undefined) continue;
      const nearest = ways.reduce((one, other) => (outdoes(one.pass.beside, other.pass.beside) ? other : one), first);
      const { name, written, pass, over } = nearest;
      const others = ways.filter((way) => way !== nearest);
      const more = others.length > 0 ? ` (with ${sayCount(others.length, 'more place')})` : '';
      yield {
        found: {
          at: written,
          subject: `flight ${flight.number} at ${mast.name}`,
          message: `${name} passes ${sayNumber(pass.beside)} m beside "${mast.name}"${more}, ${sayNumber(over.top - over.craft)} m below its top, where its guy wires may be; common practice keeps ${ROOM} m away`,
          measured: { value: pass.beside, unit: 'm' },
          limit: { value: ROOM, unit: 'm', setBy: 'common practice' },
          place: {
            at: pass.at,
            ...(pass.along === undefined ? {} : { alongM: pass.along }),
            altitudeAmslM: over.craft,
          },
          related: others.map((way) => ({
            at: way.written,
            message: `${way.name} passes ${sayNumber(way.pass.beside)} m beside it`,
          })),
        },
      };
    }
    requireWhole({ lacking });
  },
});
