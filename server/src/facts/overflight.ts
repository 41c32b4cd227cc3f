import { totalLength } from '../geo/interval.ts';
import { exceeds } from '../units/exceeds.ts';
import { type Metres, metres } from '../units/frames.ts';
import type { FactTools } from './fact.ts';
import { pathOfLeg } from './leg-path.ts';
import type { PeoplePass, PeopleWay } from './people-passes.ts';

/** A flight over an area with people, by its ground track. */
export interface Overflight {
  /** The first way that is over it, and the others in the order of the flight. */
  readonly first: PeopleWay;
  readonly more: readonly PeopleWay[];
  /** Length of the track over the area on all legs. */
  readonly length: Metres;
  /** Why it is more than a brief transit; undefined for a brief one. Finishes "the flight ...". */
  readonly sustained?: string;
}

/**
 * More crossings than out and home, and a longer stretch than this in one go, are no brief transit any more. The law says
 * "sustained flight" without a number: common practice, no source.
 */
export const BRIEF_CROSSINGS = 2;
export const BRIEF_LENGTH = metres(250);

const END = 0.001;

/** The crossings of an area: stretches that go on over the end of a leg are one. */
const crossingsOf = (ways: readonly PeopleWay[], tools: FactTools): readonly Metres[] => {
  const lengths: number[] = [];
  let open: PeopleWay['leg'];
  for (const { leg, inside } of ways) {
    if (leg === undefined) continue;
    const { length } = tools.ask(pathOfLeg, leg);
    for (const { from, to } of inside) {
      const goesOn = from <= END && open !== undefined && open.to === leg.from;
      if (goesOn) lengths.push((lengths.pop() ?? 0) + to - from);
      else lengths.push(to - from);
      open = to >= length - END ? leg : undefined;
    }
  }
  return lengths.map(metres);
};

const sustainedBy = (ways: readonly PeopleWay[], tools: FactTools): string | undefined => {
  const stays = ways.find((way) => way.stays);
  if (stays !== undefined) {
    return stays.item.kind === 'area'
      ? `is flown by hand in area ${stays.item.id.value}`
      : `holds at ${stays.item.id.value}`;
  }
  const crossings = crossingsOf(ways, tools);
  if (crossings.length > BRIEF_CROSSINGS) return `crosses it ${crossings.length} times`;
  const longest = metres(Math.max(0, ...crossings));
  return exceeds(longest, BRIEF_LENGTH) ? `stays over it for ${Math.round(longest)} m in one go` : undefined;
};

/** The flight over an area, or undefined where the ground track stays beside it. */
export const overflightOf = (pass: PeoplePass, tools: FactTools): Overflight | undefined => {
  const ways = pass.ways.filter((way) => !(way.distance > 0));
  const [first, ...more] = ways;
  if (first === undefined) return undefined;
  const length = metres(ways.reduce((sum, way) => sum + totalLength(way.inside), 0));
  const sustained = sustainedBy(ways, tools);
  return sustained === undefined ? { first, more, length } : { first, more, length, sustained };
};
