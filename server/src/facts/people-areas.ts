import { boxAround, growBox } from '../geo/box.ts';
import { shortEdged } from '../geo/strip.ts';
import type { Plan } from '../plan/model.ts';
import type { ListedPeople, People } from '../plan/people.ts';
import type { Span } from '../text/span.ts';
import { dateAt, sayDate } from '../units/calendar.ts';
import type { Metres } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';
import type { PeopleArea } from '../world/people.ts';
import { isMissing, type Missing } from '../world/world.ts';
import { shapeOfOutline } from './area-shape.ts';
import { lackingLook } from './due.ts';
import { defineFact, type FactTools, given } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';

/** An area with people, and where it is listed if it is in the plan. */
export interface KnownPeople extends PeopleArea {
  readonly written?: Span;
}

export interface PeopleAreas extends Partly {
  readonly areas: readonly KnownPeople[];
}

const ofPlan = (listed: ListedPeople): KnownPeople => {
  const name = listed.name.value;
  const kind = given(listed.kind, `what is on the area ${name}`).value;
  const shape = shapeOfOutline(given(listed.inside, `the outline of the area ${name}`));
  const corners = shape.kind === 'circle' ? [shape.centre] : shape.polygons.flatMap((rings) => rings[0] ?? []);
  const around = given(boxAround(corners), `the outline of the area ${name}`);
  return {
    name,
    kind,
    shape: shortEdged(shape),
    box: growBox(around, shape.kind === 'circle' ? shape.radius : 1),
    written: listed.name.span,
    ...(listed.status === undefined ? {} : { status: listed.status.value }),
  };
};

/** All areas with people that are known: those in the plan first, then those in files. */
export const peopleAreas = defineFact({
  name: 'people-areas',
  derive: (plan: Plan, tools: FactTools): PeopleAreas => {
    const areas: KnownPeople[] = [];
    const lacking: Missing[] = [];
    for (const listed of plan.people?.listed ?? []) {
      const area = orLacking(() => ofPlan(listed));
      if ('missing' in area) lacking.push(area);
      else areas.push(area.known);
    }
    const { people } = tools.world;
    if (isMissing(people)) lacking.push(people);
    else {
      for (const area of people.areas) areas.push({ ...area, shape: shortEdged(area.shape) });
      if (people.incomplete !== undefined) lacking.push(people.incomplete);
    }
    return { areas, lacking };
  },
});

/** What the plan says about people. Throws `NotAssessed` where it says nothing: a look at the site may not be due yet. */
export const saidOfPeople = (plan: Plan): People => {
  if (plan.people === undefined) throw lackingLook(plan, 'the plan says nothing about people on the ground');
  return plan.people;
};

/** What the crew states about everything around the route that is not listed. */
export interface PeopleStated {
  readonly at: Span;
  readonly noneWithin?: Metres;
  readonly noAreasWithin?: Metres;
  /** "nobody within 150 m, seen 2026-06-12 by pilot" */
  readonly because: string;
}

/** The crew's statement about people; undefined where the plan has none, or only a part of one. */
export const peopleStated = ({ people }: Plan): PeopleStated | undefined => {
  if (people?.seen === undefined || people.by === undefined) return undefined;
  const { noneWithin, noAreasWithin } = people;
  if (noneWithin === undefined && noAreasWithin === undefined) return undefined;
  const seen = people.seen.value;
  const day = 'date' in seen ? seen.date : dateAt(seen.time.at, seen.time.offsetMinutes);
  const said = [
    ...(noneWithin === undefined ? [] : [`nobody within ${sayNumber(noneWithin.value)} m`]),
    ...(noAreasWithin === undefined
      ? []
      : [`no residential, commercial, industrial or recreational area within ${sayNumber(noAreasWithin.value)} m`]),
  ];
  return {
    at: people.span,
    ...(noneWithin === undefined ? {} : { noneWithin: noneWithin.value }),
    ...(noAreasWithin === undefined ? {} : { noAreasWithin: noAreasWithin.value }),
    because: `${said.join(' and ')}, seen ${sayDate(day)} by ${people.by.value}`,
  };
};
