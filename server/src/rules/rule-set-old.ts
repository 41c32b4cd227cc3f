import { defineRule } from '../rulebook/rule.ts';
import { RULE_SETS } from '../rulebook/rule-set.ts';
import { dateAt, daysBetween, daysSince1970, sayDate, yearsAfter } from '../units/calendar.ts';

const dateOf = (written: string) => {
  const [year = 0, month = 1, day = 1] = written.split('-').map(Number);
  return { year, month, day };
};

export default defineRule({
  visits: 'plan',
  title: 'the rules that this program judges by were read more than a year ago',
  question: 'Which rules apply?',
  level: 'note',
  basis: 'practice',
  why: 'Rules change every year. A program that does not know the change is silent about it, and its silence looks like consent.',
  condition: 'On the day of the check the rule set that the plan is judged by was read at most a year ago.',
  mend: 'Take a newer version of this program, or look up what has changed since and accept this with that as the reason.',
  sources: [{ cite: 'the edition of the rule set', edition: '1', trust: 'common practice, no source' }],
  needs: ['now'],
  example: {
    faulty: 'window: { from: 2028-06-14 06:40 -07:00, until: 2028-06-14 07:10 -07:00 }\n',
    sound: '',
    world: 'now: 2028-06-13 21:00 -07:00\n',
  },

  *check(plan, { now, ruleSet }) {
    if (ruleSet === undefined) return;
    const { name, edition } = RULE_SETS[ruleSet];
    const read = dateOf(edition);
    const today = dateAt(now, plan.window?.from?.value.offsetMinutes ?? 0);
    if (daysSince1970(today) <= daysSince1970(yearsAfter(read, 1))) return;
    yield {
      found: {
        at: plan.titleSpan,
        subject: 'the rule set',
        message: `the rules for ${name} were read up to ${edition}, ${daysBetween(read, today)} days before ${sayDate(today)}; what has changed since is not judged`,
      },
    };
  },
});
