import { nightHoursByEither } from '../facts/dark-hours.ts';
import { given, NotAssessed } from '../facts/fact.ts';
import { flightDay } from '../facts/flight-day.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayDark, stayInLight } from '../rulebook/say-dark.ts';
import { type CalendarDate, daysBetween, sayDate } from '../units/calendar.ts';

const LAW = '14 CFR 107.29(a)(1)';

/** 14 CFR 107.29(a)(1): completed "after April 6, 2021". */
const AFTER: CalendarDate = { year: 2021, month: 4, day: 6 };

export default defineRule({
  visits: 'plan',
  title: 'the pilot flies at night without the test or training that teaches it',
  question: 'By day or by night?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'At night the eye deceives: a single light seems to wander, distances shrink, and an eye that was dazzled needs half an hour to see again. Tests and training teach this since April 2021; whoever passed before has not heard of it.',
  condition:
    'At no time of the window, at no place of the route, is it night, or the pilot’s last test or training (`tested`) was completed after 6 April 2021. It is night when the sun’s centre is more than 6° below the horizon; outside Alaska also when the 30 minutes beside sunrise and sunset are over and it is not day. As long as times of arrival are not worked out, the whole window counts at every place. A minute at each end is not told.',
  exceptions:
    'With `state: AK` only the 6° count. Training dated 6 April 2021 itself is not assessed: the words are "after April 6, 2021", and the new courses opened on that day.',
  mend: 'End the window before night, or complete the training and write its day into `tested`. No waiver lifts this.',
  otherReading:
    '14 CFR 107.29(c) lets twilight last 30 minutes, 14 CFR 1.1 lets it last until the sun is 6° below the horizon. This tool takes as night what either calls so. "After April 6, 2021" is read as later than that day.',
  sources: [
    { cite: '14 CFR 107.29(a)(1), (c)', edition: '2026-01-01', trust: 'secondary copy' },
    { cite: '14 CFR 107.65', edition: '2026', trust: 'secondary copy' },
    { cite: '14 CFR 1.1 (night)', edition: '2026', trust: 'secondary copy' },
  ],
  ask: { whom: 'whoever gives the test or the training', kind: 'competency' },
  inForce: { 'us-part-107': { since: '2021-04-21' } },
  needs: [],
  example: {
    faulty:
      'window: { from: 2026-06-14 22:00 -07:00, until: 2026-06-14 22:30 -07:00 }\ncrew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2020-11-03 }\n',
    sound:
      'window: { from: 2026-06-14 22:00 -07:00, until: 2026-06-14 22:30 -07:00 }\ncrew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03 }\n',
  },

  *check(plan, { ask }) {
    const tested = plan.crew.pilot?.tested;
    const days = tested === undefined ? undefined : daysBetween(AFTER, tested.value);
    const day = orLacking(() => ask(flightDay, plan));
    const isLater = tested !== undefined && 'known' in day && daysBetween(day.known, tested.value) > 0;
    if (days !== undefined && days > 0 && !isLater) return;
    const dark = ask(nightHoursByEither, plan);
    if (dark.stretches.length === 0) {
      requireWhole(dark);
      return;
    }
    requireRead(plan.slips, 'crew pilot tested');
    const { value, span } = given(tested, 'the day of the pilot’s last test or training ("tested")');
    if (isLater) throw new NotAssessed(`the pilot’s test or training is dated ${sayDate(value)}, after the flight`);
    if (days === 0) {
      throw new NotAssessed(`the pilot’s test or training is dated ${sayDate(value)}, and ${LAW} asks for a later day`);
    }
    yield {
      found: {
        at: span,
        subject: 'the pilot',
        message: `${sayDark(dark, 'night', plan)}, and the pilot was last tested or trained on ${sayDate(value)}; ${LAW} requires a day after ${sayDate(AFTER)}`,
        place: { at: dark.at },
        fixes: stayInLight(dark, plan),
      },
    };
  },
});
