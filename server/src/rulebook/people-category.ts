import { type FactTools, given, NotAssessed, present } from '../facts/fact.ts';
import { orLacking } from '../facts/lacking.ts';
import type { Overflight } from '../facts/overflight.ts';
import { peopleAreas } from '../facts/people-areas.ts';
import { US_REGISTRATION_MASS } from '../facts/registration-duty.ts';
import { liesWithin } from '../geo/lies-within.ts';
import { type Aircraft, OVER_PEOPLE_CATEGORIES, type OverPeople, type OverPeopleCategory } from '../plan/aircraft.ts';
import type { Plan } from '../plan/model.ts';
import { sayNumber } from '../units/say.ts';
import type { PeopleArea } from '../world/people.ts';
import type { Missing } from '../world/world.ts';

/** The category for flight over people that a plan claims: 14 CFR 107.105. */
export const claimedCategory = ({ category }: Plan): OverPeopleCategory | undefined =>
  OVER_PEOPLE_CATEGORIES.find((each) => each === category?.value);

/** What an aircraft lacks for a category. `text` finishes "the aircraft ...". */
export interface CategoryFault {
  readonly text: string;
  readonly law: string;
}

/** Differences below a tenth of a milligram are the arithmetic's. */
const SCALE = 1e-7;

const massFault = (aircraft: Aircraft): CategoryFault | undefined => {
  const mass = given(aircraft.mass, 'the take-off mass of the aircraft').value;
  if (!(mass - US_REGISTRATION_MASS > SCALE)) return undefined;
  const grams = (kilograms: number): string => `${sayNumber(kilograms * 1000, 2)} g`;
  return {
    text: `weighs ${grams(mass)} on take-off; category 1 allows at most ${grams(US_REGISTRATION_MASS)} (0.55 lb)`,
    law: '14 CFR 107.110(a)',
  };
};

const rotorsFault = ({ rotorsCovered }: OverPeople, law: string): CategoryFault | undefined =>
  given(rotorsCovered, 'whether rotating parts of the aircraft are exposed (over-people: rotors-covered)').value ===
  'yes'
    ? undefined
    : { text: 'has exposed rotating parts, which none of categories 1 to 3 allows', law };

const paperFault = ({ declaration, labelled }: OverPeople, law: string): CategoryFault | undefined => {
  given(declaration, 'the declaration of compliance of the aircraft (over-people: declaration)');
  return given(labelled, 'whether the aircraft bears the label of its category (over-people: labelled)').value === 'yes'
    ? undefined
    : { text: 'does not bear the label of its category', law };
};

/** Conditions of a category as to the aircraft, each for itself. */
const CONDITIONS: Readonly<
  Record<OverPeopleCategory, readonly ((aircraft: Aircraft, own: OverPeople) => CategoryFault | undefined)[]>
> = {
  'category 1': [massFault, (_, own) => rotorsFault(own, '14 CFR 107.110(b)')],
  'category 2': [
    (_, own) => rotorsFault(own, '14 CFR 107.120(a)(2)'),
    (_, own) => paperFault(own, '14 CFR 107.115(b)'),
  ],
  'category 3': [
    (_, own) => rotorsFault(own, '14 CFR 107.130(a)(2)'),
    (_, own) => paperFault(own, '14 CFR 107.125(a)'),
  ],
  'category 4': [
    (_, own) => {
      given(own.airworthiness, 'the airworthiness certificate of the aircraft (over-people: airworthiness)');
      return undefined;
    },
  ],
};

export interface CategoryFitness {
  readonly faults: readonly CategoryFault[];
  readonly lacking: readonly Missing[];
}

/** Whether an aircraft meets what a category asks of it: 14 CFR 107.110 to 107.140. */
export const fitnessFor = (category: OverPeopleCategory, aircraft: Aircraft): CategoryFitness => {
  const own = aircraft.overPeople;
  if (own?.category === undefined) {
    const missing = `the aircraft file does not say for which category of flight over people it is eligible (over-people)`;
    return { faults: [], lacking: [{ missing }] };
  }
  if (own.category.value !== category) {
    const text = `is eligible for ${own.category.value} by its file, not for ${category}`;
    return { faults: [{ text, law: '14 CFR 107.105' }], lacking: [] };
  }
  const faults: CategoryFault[] = [];
  const lacking: Missing[] = [];
  for (const condition of CONDITIONS[category]) {
    const fault = orLacking(() => condition(aircraft, own));
    if ('missing' in fault) lacking.push(fault);
    else if (fault.known !== undefined) faults.push(fault.known);
  }
  return { faults, lacking };
};

const onNotifiedSite = (area: PeopleArea, tools: FactTools): boolean => {
  if (area.kind === 'closed site') return area.status === 'notified';
  const { areas } = tools.ask(peopleAreas, tools.plan);
  return areas.some(
    (site) => site.kind === 'closed site' && site.status === 'notified' && liesWithin(area.shape, site.shape),
  );
};

const assemblyMismatch = (
  category: OverPeopleCategory,
  { sustained }: Overflight,
  { remoteId }: Aircraft,
): string | undefined => {
  if (category === 'category 3')
    return 'category 3 never allows flight over an assembly in the open (14 CFR 107.125(b))';
  if (sustained === undefined) return undefined;
  const means = given(remoteId?.means, 'the means of remote identification in the aircraft file').value;
  if (means !== 'recognised area') return undefined;
  return `it ${sustained}, and sustained flight over an assembly takes remote identification by 14 CFR 89.110 or 89.115(a)`;
};

/** What keeps a category from covering a flight over an area; undefined where it covers it. Throws `NotAssessed`. */
export const categoryMismatch = (
  category: OverPeopleCategory,
  area: PeopleArea,
  over: Overflight,
  tools: FactTools,
): string | undefined => {
  const aircraft = present(tools.world.aircraft);
  const { faults, lacking } = fitnessFor(category, aircraft);
  const [fault] = faults;
  if (fault !== undefined) return `the aircraft ${fault.text}`;
  const [unknown] = lacking;
  if (unknown !== undefined) throw new NotAssessed(unknown.missing, unknown.due);
  if (area.kind === 'assembly') return assemblyMismatch(category, over, aircraft);
  const asksSite = category === 'category 3' || (area.kind === 'road' && category !== 'category 4');
  if (!asksSite || over.sustained === undefined || onNotifiedSite(area, tools)) return undefined;
  const law = area.kind === 'road' ? '14 CFR 107.145' : '14 CFR 107.125(c)';
  return `it ${over.sustained}, and ${category} allows sustained flight only over a closed site where everybody has been notified (${law})`;
};
