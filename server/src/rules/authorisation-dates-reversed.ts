import type { Authorisation, Plan } from '../plan/model.ts';
import { begins, ends, sayWhen } from '../rulebook/authorisation-terms.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayDate, startOfDay } from '../units/calendar.ts';

/** Dates without a time are those of the place of take-off, as far as that is known. */
const offsetOf = ({ window }: Plan): number => window?.from?.value.offsetMinutes ?? 0;

const disorderOf = (paper: Authorisation, plan: Plan): Pick<Complaint, 'at' | 'message'> | undefined => {
  const { from, until, issued } = paper;
  const offset = offsetOf(plan);
  const name = `${paper.sections.length > 0 ? 'waiver' : 'authorisation'} "${paper.number?.value ?? 'without a number'}"`;
  if (from !== undefined && until !== undefined && ends(until.value, offset) <= begins(from.value, offset)) {
    return {
      at: until.span,
      message: `${name} ends at ${sayWhen(until.value)}, before it begins at ${sayWhen(from.value)}`,
    };
  }
  if (issued !== undefined && until !== undefined && ends(until.value, offset) <= startOfDay(issued.value, offset)) {
    return {
      at: issued.span,
      message: `${name} was issued on ${sayDate(issued.value)}, after its end at ${sayWhen(until.value)}`,
    };
  }
  const start = plan.window?.from?.value;
  if (issued !== undefined && start !== undefined && startOfDay(issued.value, offset) > start.at) {
    return {
      at: issued.span,
      message: `${name} was issued on ${sayDate(issued.value)}, after the flight begins; leave has to be there before`,
    };
  }
  return undefined;
};

export default defineRule({
  visits: 'plan',
  title: 'the dates of an authorisation or waiver are in the wrong order',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A paper with its dates swapped holds at no time at all, and one that is issued after the flight is none. It is nearly always a slip of the pen, and on the day nobody can tell which date was meant.',
  condition:
    'Each authorisation and waiver begins before it ends, is issued before it ends, and is issued no later than the day of the flight. A date alone is the whole day.',
  mend: 'Copy the dates from the paper.',
  sources: [
    { cite: '14 CFR 107.41, 107.200', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '49 U.S.C. 44809(a)(5)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '(EU) 2019/947 Art. 12, 15', edition: '2026-10-10', trust: 'from memory', for: ['eu-open', 'eu-specific'] },
  ],
  needs: [],
  example: {
    faulty:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-30, until: 2026-06-01, holder: pilot }]\n',
    sound:
      'authorisations: [{ number: A-114, zone: ctr-lakes, up-to: 60 m AGL, from: 2026-06-01, until: 2026-06-30, holder: pilot }]\n',
  },

  *check(plan) {
    for (const paper of plan.authorisations) {
      const wrong = disorderOf(paper, plan);
      if (wrong !== undefined)
        yield { found: { ...wrong, subject: `authorisation ${paper.number?.value ?? ''}`.trim() } };
    }
  },
});
