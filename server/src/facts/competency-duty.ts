import type { Plan } from '../plan/model.ts';
import { type CalendarDate, lastDayAfterMonths, yearsAfter } from '../units/calendar.ts';
import { needsNoProof } from './eu-classes.ts';
import { defineFact, NotAssessed, present } from './fact.ts';

/** The proof of competency that the law asks the pilot for. */
export interface CompetencyDuty {
  /** "a remote pilot certificate" */
  readonly proof: string;
  /** Words by which the plan names it. */
  readonly named: RegExp;
  /** How the plan may write it. */
  readonly written: string;
  readonly law: string;
  /** Until when it counts, where it ends at all. */
  readonly term?: {
    readonly law: string;
    /** "24 calendar months" */
    readonly said: string;
    until(tested: CalendarDate): CalendarDate;
  };
}

/** 14 CFR 107.65: within the previous 24 calendar months. */
const CALENDAR_MONTHS = 24;

/** Certificates of (EU) 2019/947 UAS.OPEN.070 are valid for five years. */
const YEARS = 5;

/** An A2 certificate is given to those who have the A1/A3 proof. */
const OPEN_PROOF = /\bA[123]\b/;

const EU_TERM: CompetencyDuty['term'] = {
  law: '(EU) 2019/947 UAS.OPEN.070',
  said: `${YEARS} years`,
  until: (tested) => yearsAfter(tested, YEARS),
};

/**
 * What the pilot has to hold; undefined where nothing. In the specific category the authorisation says it, so no duty is
 * known here. In A1 nothing is asked of who flies the lightest, and that hangs on the aircraft.
 */
export const competencyDuty = defineFact({
  name: 'competency duty',
  derive: (plan: Plan, { ruleSet, world }): CompetencyDuty | undefined => {
    if (ruleSet === 'us-part-107') {
      return {
        proof: 'a remote pilot certificate',
        named: /\bremote pilot\b|\bpart 107\b/i,
        written: 'remote pilot',
        law: '14 CFR 107.12',
        term: {
          law: '14 CFR 107.65',
          said: `${CALENDAR_MONTHS} calendar months`,
          until: (tested) => lastDayAfterMonths(tested, CALENDAR_MONTHS),
        },
      };
    }
    if (ruleSet === 'us-recreational') {
      return {
        proof: 'proof of the aeronautical knowledge and safety test',
        named: /\btest\b/i,
        written: 'recreational test',
        law: '49 U.S.C. 44809(a)(7)',
      };
    }
    if (ruleSet === 'eu-open') {
      if (plan.category?.value === 'A2') {
        const law = '(EU) 2019/947 UAS.OPEN.030(2)';
        return { proof: 'an A2 certificate', named: /\bA2\b/, written: 'A2 certificate', law, term: EU_TERM };
      }
      const held = plan.crew.pilot?.held?.value;
      // Only a pilot who shows no proof needs an aircraft for which none is asked.
      const shown = held !== undefined && OPEN_PROOF.test(held);
      if (!shown && plan.category?.value !== 'A3' && needsNoProof(present(world.aircraft))) return undefined;
      return {
        proof: 'an A1/A3 proof',
        named: OPEN_PROOF,
        written: 'A1/A3 proof',
        law: plan.category?.value === 'A3' ? '(EU) 2019/947 UAS.OPEN.040(3)' : '(EU) 2019/947 UAS.OPEN.020(4)',
        term: EU_TERM,
      };
    }
    throw new NotAssessed('the rule set is not known');
  },
});
