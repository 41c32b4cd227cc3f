import { boxAround, boxesMeet, growBox } from '../geo/box.ts';
import { type Shape, shapesMeet } from '../geo/shape.ts';
import type { Flight } from '../plan/model.ts';
import { metres } from '../units/frames.ts';
import { defineFact, type FactTools } from './fact.ts';
import type { Partly } from './lacking.ts';
import type { Overflight } from './overflight.ts';
import { overflightOf } from './overflight.ts';
import { type KnownPeople, peopleAreas } from './people-areas.ts';
import { type PeopleWay, peoplePasses } from './people-passes.ts';
import { type Returns, returnsOf } from './returns.ts';

/** An area with people that the way after a lost link leads over. */
export interface ReturnOverPeople {
  readonly area: KnownPeople;
  readonly over: Overflight;
}

export interface ReturnsOverPeople extends Partly {
  readonly places: readonly ReturnOverPeople[];
}

const wayOver = ({ subject, written, item, leg, path }: Returns, area: KnownPeople): PeopleWay => ({
  subject,
  written,
  item,
  ...(leg === undefined ? {} : { leg }),
  distance: metres(0),
  at: path.from,
  inside: [],
  outline: area.shape,
  stays: false,
});

/**
 * Areas with people that the ways home from anywhere on the route lead over, and the route itself does not: those that it
 * flies over have a finding of their own.
 */
export const returnsOverPeople = defineFact({
  name: 'returns-over-people',
  derive: (flight: Flight, tools: FactTools): ReturnsOverPeople | undefined => {
    const returns = tools.ask(returnsOf, flight);
    if (returns === undefined) return undefined;
    const { areas, lacking } = tools.ask(peopleAreas, tools.plan);
    if (areas.length === 0) return { places: [], lacking };
    const passes = tools.ask(peoplePasses, flight).passes;
    const overflown = new Set(passes.filter((pass) => overflightOf(pass, tools) !== undefined).map(({ area }) => area));
    const places = areas.flatMap((area): readonly ReturnOverPeople[] => {
      if (overflown.has(area)) return [];
      const ways = returns.returns.filter(({ path }) => {
        const corners = [returns.way.to, path.from, path.to];
        const box = boxAround(corners);
        const outline: Shape = { kind: 'polygons', polygons: [[corners]] };
        return box !== undefined && boxesMeet(area.box, growBox(box, 1)) && shapesMeet(outline, area.shape);
      });
      const [first, ...more] = ways.map((way) => wayOver(way, area));
      return first === undefined ? [] : [{ area, over: { first, more, length: metres(0) } }];
    });
    return { places, lacking: [...returns.lacking, ...lacking] };
  },
});
