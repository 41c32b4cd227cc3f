import type { OpenCategory } from '../facts/eu-classes.ts';
import { type FactTools, given, NotAssessed, present } from '../facts/fact.ts';
import { EU_REGISTRATION_MASS } from '../facts/registration-duty.ts';
import type { PeopleArea } from '../world/people.ts';
import type { Level } from './finding.ts';

/** What the law says of flight over an area with people. */
export interface OverflightDuty {
  readonly level: Level;
  /** Who says so. */
  readonly law: string;
  /** Finishes "<law> ...". */
  readonly says: string;
}

/** "the assembly "market day"", "the people at "bathing place"", "the road "shore road"" */
export const sayPeople = ({ kind, name }: PeopleArea): string => {
  switch (kind) {
    case 'people':
      return `the people at "${name}"`;
    case 'assembly':
    case 'road':
    case 'closed site':
      return `the ${kind} "${name}"`;
    default:
      return `the ${kind} area "${name}"`;
  }
};

/** The uses of land from which UAS.OPEN.040(2) keeps 150 m. */
export const isLandUse = ({ kind }: PeopleArea): boolean =>
  kind === 'residential' || kind === 'commercial' || kind === 'industrial' || kind === 'recreational';

const ONLY =
  'allows flight only over people who take part directly, are under cover, or by a category for flight over people';

/** 14 CFR 107.39 exempts who takes part or is under cover, 107.145 nobody in a moving vehicle who does not take part. */
const underPart107 = (area: PeopleArea): OverflightDuty | undefined => {
  if (area.status === 'participant') return undefined;
  if (area.kind === 'road') {
    const says = 'allows flight over people in moving vehicles by a category for flight over people only';
    return { level: 'stop', law: '14 CFR 107.145', says };
  }
  if (area.status === 'under cover') return undefined;
  if (isLandUse(area)) {
    return { level: 'caution', law: '14 CFR 107.39', says: `${ONLY}, and somebody may be in the open there` };
  }
  return { level: 'stop', law: '14 CFR 107.39', says: ONLY };
};

const forRecreation = (area: PeopleArea): OverflightDuty | undefined => {
  if (area.status === 'participant' || isLandUse(area)) return undefined;
  if (area.status === 'under cover' && area.kind !== 'road') return undefined;
  return {
    level: 'caution',
    law: 'the guidelines of the community-based organisation (49 U.S.C. 44809(a)(2))',
    says: 'keep flights away from people and moving vehicles',
  };
};

export type { OpenCategory };

/** The subcategory of the open category that the plan flies in. */
export const openCategory = ({ plan }: FactTools): OpenCategory => {
  const category = given(plan.category, 'the subcategory of the open category (category: A1, A2 or A3)').value;
  if (category === 'A1' || category === 'A2' || category === 'A3') return category;
  throw new NotAssessed(`"${category}" is no subcategory of the open category, so that its distances are not known`);
};

/** Whether the aircraft may overfly people who take no part in A1: class C0, or below 250 g with or without a mark. */
const isLightest = (tools: FactTools): boolean => {
  const aircraft = present(tools.world.aircraft);
  const euClass = given(aircraft.euClass, 'the eu-class of the aircraft').value;
  if (euClass === 'C0') return true;
  if (euClass !== 'legacy' && euClass !== 'private') return false;
  return given(aircraft.mass, 'the take-off mass of the aircraft').value < EU_REGISTRATION_MASS;
};

const PARAGRAPH: Readonly<Record<OpenCategory, string>> = {
  A1: '(EU) 2019/947 UAS.OPEN.020(1)',
  A2: '(EU) 2019/947 UAS.OPEN.030(1)',
  A3: '(EU) 2019/947 UAS.OPEN.040(1)',
};

const inOpenCategory = (area: PeopleArea, tools: FactTools): OverflightDuty | undefined => {
  if (area.kind === 'assembly') {
    return { level: 'stop', law: '(EU) 2019/947 Art. 4(1)(c)', says: 'never allows flight over an assembly of people' };
  }
  if (area.status === 'participant') return undefined;
  const category = openCategory(tools);
  if (category === 'A1' && isLightest(tools)) return undefined;
  const law = PARAGRAPH[category];
  if (isLandUse(area)) {
    // A3 keeps 150 m from these by a rule of its own.
    if (category === 'A3') return undefined;
    return { level: 'caution', law, says: 'keeps flights off people who take no part, who may be in the open there' };
  }
  if (area.status === 'under cover' || area.kind === 'road') {
    return {
      level: 'caution',
      law,
      says: 'keeps flights off people who take no part, and knows no exception for cover',
    };
  }
  return { level: 'stop', law, says: 'does not allow flight over people who take no part' };
};

/** What the rule set of the plan says of flight over an area; undefined where it has nothing against it. */
export const overflightDuty = (area: PeopleArea, tools: FactTools): OverflightDuty | undefined => {
  switch (tools.ruleSet) {
    case 'us-part-107':
      return underPart107(area);
    case 'us-recreational':
      return forRecreation(area);
    case 'eu-open':
      return inOpenCategory(area, tools);
    default:
      throw new NotAssessed('the rule set is not known');
  }
};
