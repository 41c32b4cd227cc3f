import { defineRule } from '../rulebook/rule.ts';
import { sayDate } from '../units/calendar.ts';

export default defineRule({
  visits: 'acceptance',
  title: 'an acceptance ends before the flight does',
  question: 'Does the plan say what I mean?',
  level: 'caution',
  basis: 'language',
  why: 'Acceptances end so that somebody looks again. Past its end an acceptance covers nothing.',
  condition: 'The last day in `until` is not before the end of the window; the landing counts, not the clock.',
  mend: 'Look at the risk again, and write a new end if it is still acceptable.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'accepts: [{ rule: seen-beyond-guidance-range, because: short flight over water, up-to: 300 m, until: 2026-06-01 }]\n',
    sound: 'title: Without acceptances\n',
  },

  *check({ acceptance, fate }) {
    if (fate !== 'lapsed') return;
    yield {
      found: {
        at: acceptance.until?.span ?? acceptance.span,
        subject: `acceptance of ${acceptance.rule?.value ?? 'nothing'}`,
        message: `the acceptance of "${acceptance.rule?.value ?? ''}" ended on ${acceptance.until === undefined ? '' : sayDate(acceptance.until.value)}, before the end of the window, so it covers nothing`,
      },
    };
  },
});
