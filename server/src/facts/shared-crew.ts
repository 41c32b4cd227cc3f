import type { CrewMember, Plan } from '../plan/model.ts';
import type { Written } from '../text/span.ts';
import type { Neighbour } from '../world/neighbour.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools, NotAssessed } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import { commonTime, lackingOf } from './meetings.ts';
import { neighbours, neighbourTools } from './neighbours.ts';
import { type TimeBand, timeline } from './timeline.ts';
import { sayMember } from './watchers.ts';

/** One person, by the name as written, with a part in two aircraft at one time. */
export interface SharedPerson {
  readonly neighbour: Neighbour;
  readonly name: Written<string>;
  readonly role: CrewMember['role'];
  readonly otherRole: CrewMember['role'];
  readonly times: TimeBand;
}

export interface SharedCrew extends Partly {
  readonly people: readonly SharedPerson[];
}

const flightTimes = (plan: Plan, tools: FactTools): readonly TimeBand[] =>
  plan.flights.map((flight) => {
    const { takeOff, landing } = tools.ask(timeline, flight);
    return { earliest: takeOff.earliest, latest: landing.latest };
  });

/** The first time at which flights of both plans can be in the air. */
const timeTogether = (neighbour: Neighbour, tools: FactTools): TimeBand | undefined => {
  const others = tools.ask(neighbourTools, neighbour);
  const theirs = orLacking(() => flightTimes(neighbour.plan, others));
  if ('missing' in theirs) {
    const { missing, due } = lackingOf(neighbour, theirs);
    throw new NotAssessed(missing, due);
  }
  for (const own of flightTimes(tools.plan, tools)) {
    for (const other of theirs.known) {
      const times = commonTime(own, other);
      if (times !== undefined) return times;
    }
  }
  return undefined;
};

const membersOf = ({ crew }: Plan): readonly CrewMember[] => [
  ...(crew.pilot === undefined ? [] : [crew.pilot]),
  ...crew.observers,
];

/** Two ways of writing one name. */
const plain = (name: string): string => name.trim().replace(/\s+/g, ' ').toLowerCase();

/** Who of a crew cannot be told from anybody else, since no name or initials are given. */
const namelessIn = (plan: Plan): Missing | undefined => {
  if (plan.crew.pilot === undefined) return { missing: 'the crew has no pilot' };
  const nameless = membersOf(plan).find(({ name }) => name === undefined);
  if (nameless === undefined) return undefined;
  const key = nameless.role === 'pilot' ? 'by' : 'name';
  return { missing: `${sayMember(nameless)} has no name or initials (${key}), so that nobody can tell who else it is` };
};

/** Persons who have a part in the flights of this plan and in those of a plan alongside at one time. */
export const sharedCrew = defineFact({
  name: 'shared-crew',
  derive: (plan: Plan, tools: FactTools): SharedCrew => {
    const { known, lacking: unread } = tools.ask(neighbours, tools.plan);
    const lacking: Missing[] = [...unread];
    const people = known.flatMap((neighbour): SharedPerson[] => {
      const together = orLacking(() => timeTogether(neighbour, tools));
      if ('missing' in together) {
        lacking.push(together);
        return [];
      }
      const times = together.known;
      if (times === undefined) return [];
      const own = namelessIn(plan);
      const theirs = namelessIn(neighbour.plan);
      if (own !== undefined) lacking.push(own);
      if (theirs !== undefined) lacking.push(lackingOf(neighbour, theirs));
      return membersOf(plan).flatMap(({ name, role }) => {
        const same = membersOf(neighbour.plan).find(
          (other) => name !== undefined && other.name !== undefined && plain(other.name.value) === plain(name.value),
        );
        return name === undefined || same === undefined ? [] : [{ neighbour, name, role, otherRole: same.role, times }];
      });
    });
    return { people, lacking };
  },
});
