import type { RuleSetId } from './rule-set.ts';

/**
 * What the law asks for and no plan can show: what happens in the air or afterwards, and what is a matter of the product.
 * They stand in every matrix of their rule sets, so that nobody takes silence about them for an answer.
 */
export interface OutOfReach {
  /** Named as rules are, and never the name of one. */
  readonly name: string;
  readonly cite: string;
  readonly for: readonly RuleSetId[];
  /** What is asked for. */
  readonly asks: string;
  /** Why a plan cannot show it. */
  readonly why: string;
}

const PART_107 = ['us-part-107'] as const;
const UNITED_STATES = ['us-recreational', 'us-part-107'] as const;
const UNION = ['eu-open', 'eu-specific'] as const;

export const OUT_OF_REACH: readonly OutOfReach[] = [
  {
    name: 'careless-operation',
    cite: '14 CFR 107.23(a)',
    for: PART_107,
    asks: 'nobody flies carelessly or recklessly',
    why: 'it is judged by what is done in the air',
  },
  {
    name: 'collision-hazard',
    cite: '14 CFR 107.37(b)',
    for: PART_107,
    asks: 'nobody flies so close to another aircraft as to create a collision hazard',
    why: 'the other aircraft are not in the plan',
  },
  {
    name: 'emergency-deviation-unreported',
    cite: '14 CFR 107.21',
    for: PART_107,
    asks: 'who deviates in an emergency reports it in writing when asked',
    why: 'it comes after the flight, and no plan may count on it',
  },
  {
    name: 'event-unreported',
    cite: '14 CFR 107.9',
    for: PART_107,
    asks: 'serious injury, loss of consciousness, or damage above 500 US dollars is reported within 10 calendar days',
    why: 'it comes after the flight',
  },
  {
    name: 'papers-not-carried',
    cite: '14 CFR 107.7',
    for: PART_107,
    asks: 'the certificate and an identification are at hand and shown on request',
    why: 'what somebody has in the pocket is seen in the field',
  },
  {
    name: 'registrant-too-young',
    cite: '14 CFR 48.25',
    for: UNITED_STATES,
    asks: 'whoever registers an aircraft is at least 13 years old',
    why: 'a plan holds no ages, and the register asks for it',
  },
  {
    name: 'identification-inexact',
    cite: '14 CFR 89.305 to 89.320',
    for: UNITED_STATES,
    asks: 'the broadcast holds what the law lists, exact to 100 ft sideways and 150 ft in height, once a second',
    why: 'it is a matter of the product, which its maker has declared',
  },
  {
    name: 'identification-stopped',
    cite: '14 CFR 89.110(a), 89.115(a)',
    for: UNITED_STATES,
    asks: 'the broadcast runs from take-off to shutdown, and whoever sees it stop lands',
    why: 'it shows in the air only',
  },
  {
    name: 'category-switched-inadvertently',
    cite: '14 CFR 107.150, 107.135',
    for: PART_107,
    asks: 'an aircraft of several categories cannot change them by accident, and its label is kept legible',
    why: 'it is a matter of the product',
  },
  {
    name: 'penalties',
    cite: '49 U.S.C. 46301, 46306; Regulation (EU) 2018/1139 Art. 84',
    for: [...UNITED_STATES, ...UNION],
    asks: 'breaches can cost money and certificates',
    why: 'it is no condition of a flight, and this tool predicts no fines',
  },
  {
    name: 'flight-not-discontinued',
    cite: '(EU) 2019/947 UAS.OPEN.060(2)',
    for: UNION,
    asks: 'the pilot stops where it becomes a risk to others, and keeps out of places where emergency services work',
    why: 'it shows in the air only',
  },
];
