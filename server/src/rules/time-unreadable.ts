import { defineSlipRule } from '../rulebook/rule.ts';
import { complaint, rewrites, sayPlace, sayWritten } from '../rulebook/slip-words.ts';

export default defineSlipRule({
  visits: 'slip',
  slip: 'time-unreadable',
  title: 'a date or a time cannot be read',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Daylight, papers and restrictions hang on the hour. 04/05/2026 is April to some and May to others, and a time without its offset from UTC is wrong by hours for everyone elsewhere. Nothing that depends on this time was checked.',
  condition:
    'A time is 2026-06-14 06:40 -07:00: year-month-day, hours:minutes, and the offset from UTC, or Z for UTC. A date is 2026-06-14.',
  mend: 'Write the time in this form. The offset is the one of the clocks at the take-off place on that day.',
  sources: [
    { cite: 'plan format 1', edition: '1' },
    { cite: 'RFC 3339', edition: '2002-07', trust: 'from memory' },
  ],
  needs: [],
  example: {
    faulty: 'window: { from: 2026/06/14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
    sound: 'window: { from: 2026-06-14 06:40 -07:00, until: 2026-06-14 07:10 -07:00 }\n',
  },

  *check(slip) {
    const write = slip.mended === undefined ? '' : `; write ${slip.mended}`;
    const message = `${sayPlace(slip)} is ${sayWritten(slip.text)}, which cannot be read: ${slip.reason}${write}`;
    const mended = slip.mended === undefined ? [] : [slip.mended];
    yield complaint(slip, message, rewrites(slip, 'same-flight', mended));
  },
});
