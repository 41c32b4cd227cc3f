import { destination, type LegPath, legPath } from '../geo/geodesy.ts';
import { nearestToShape } from '../geo/near-shape.ts';
import type { Shape } from '../geo/shape.ts';
import type { Item } from '../plan/model.ts';
import { type LonLat, type Metres, metres, type Seconds, seconds } from '../units/frames.ts';
import { fastestOn } from './course-speed.ts';
import { lackingWeather } from './due.ts';
import { type FactTools, given } from './fact.ts';
import { fallTime } from './fall-reach.ts';
import { greatestHeight } from './height-near-people.ts';
import { itemPlace } from './item-place.ts';
import { requireWhole } from './lacking.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { windInWindow } from './weather-in-window.ts';

/** Errors of position, path and map, as in the contingency volume (LBA guidance, rev. 1.7), in metres. */
const ERRORS = 3 + 3 + 1;

/** Sine of the degrees by which a wind may turn: common practice, no source. */
const TURNED = Math.sin((30 * Math.PI) / 180);

/** Where a thing that is let fall can come down: beside a straight way from under the aircraft, once for each wind. */
export interface DropReach {
  readonly time: Seconds;
  readonly height: number;
  /** Each way over the ground, and how far beside it the thing may come down. */
  readonly ways: readonly { readonly path: LegPath; readonly beside: Metres }[];
}

/**
 * Where the thing let fall at a point can come down. Time: height / sinks, or that of a free fall. It drifts with the wind
 * for that time, and a free fall keeps the aircraft's speed along the leg that leads there unless it holds at the point. A
 * light thing without `sinks` drifts farther than a free fall: the answer is then an estimate and no bound.
 */
export const dropReach = (item: Item, tools: FactTools): DropReach => {
  const subject = `point ${item.id.value}`;
  const at = tools.ask(itemPlace, item);
  const height = greatestHeight({ subject, item }, tools);
  const sinks = item.drop?.sinks?.value;
  const time = sinks === undefined ? fallTime(height) : seconds(Math.max(0, height) / sinks);
  const winds = tools.ask(windInWindow, tools.plan);
  requireWhole(winds);
  if (winds.values.length === 0) throw lackingWeather(tools.plan, 'the plan gives no wind');
  const leg = routePlaceOf(item, tools).arriving;
  const moves = leg !== undefined && !((item.hold?.value ?? 0) > 0) && sinks === undefined;
  const thrown = moves ? fastestOn({ subject, item, leg }, tools) * time : 0;
  const under: LonLat = moves && thrown > 0 ? destination(at, tools.ask(pathOfLeg, leg).course, thrown) : at;
  const ways = winds.values.map(({ value }) => {
    const drift = Math.max(value.speed, value.gust ?? value.speed) * time;
    if (value.from === undefined) return { path: legPath(at, under), beside: metres(ERRORS + drift) };
    const end = destination(under, value.from + 180, drift);
    return { path: legPath(at, end), beside: metres(ERRORS + TURNED * drift) };
  });
  return { time, height: given(height, `the height of ${subject}`), ways };
};

/** How near the places where it can come down are to an area, beyond the spread: 0 where it can come down in it. */
export const dropDistance = ({ ways }: DropReach, shape: Shape): Metres =>
  metres(
    ways.reduce(
      (least, { path, beside }) => Math.min(least, Math.max(0, nearestToShape(path, shape).distance - beside)),
      Number.POSITIVE_INFINITY,
    ),
  );
