import { competencyDuty } from '../facts/competency-duty.ts';
import { flightDay } from '../facts/flight-day.ts';
import { orLacking } from '../facts/lacking.ts';
import type { DateOrTime } from '../plan/model.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import type { Span } from '../text/span.ts';
import { type CalendarDate, dateAt, daysBetween, sayDate } from '../units/calendar.ts';
import { TIME_UNITS } from '../units/convert.ts';
import { sayCount, sayList, sayNumber } from '../units/say.ts';
import { isMissing } from '../world/world.ts';

interface Paper {
  readonly said: string;
  readonly at: Span;
  readonly until: CalendarDate;
}

const dayOf = (when: DateOrTime): CalendarDate =>
  'date' in when ? when.date : dateAt(when.time.at, when.time.offsetMinutes);

/** Everything of the plan and its aircraft that ends on a day. */
const papersOf = (tools: RuleTools): readonly Paper[] => {
  const { plan, world, ask } = tools;
  const papers: Paper[] = [];
  const expires = isMissing(world.aircraft) ? undefined : world.aircraft.registration?.expires;
  if (expires !== undefined && plan.aircraft !== undefined) {
    papers.push({ said: 'the registration', at: plan.aircraft.span, until: expires.value });
  }
  const tested = plan.crew.pilot?.tested;
  const duty = orLacking(() => ask(competencyDuty, plan));
  const term = 'known' in duty ? duty.known?.term : undefined;
  if (tested !== undefined && term !== undefined) {
    papers.push({ said: 'the pilot’s test or training', at: tested.span, until: term.until(tested.value) });
  }
  // A leave for this flight alone ends with it, and that is no news; one that outlasts the day is for more flights.
  for (const { number, until } of plan.authorisations) {
    if (until === undefined) continue;
    papers.push({
      said: `authorisation "${number?.value ?? 'without a number'}"`,
      at: until.span,
      until: dayOf(until.value),
    });
  }
  return papers;
};

export default defineRule({
  visits: 'plan',
  title: 'a paper ends soon after the flight',
  question: 'What papers?',
  level: 'caution',
  basis: 'practice',
  why: 'A paper that holds today and not next week is renewed in the office today, or missed in the field next week.',
  condition:
    'Where the house has set `limits: { paper-notice: ... }`, no registration, test or authorisation ends within that time after the day of the flight. Without it nothing is said. What ends on the day of the flight itself was made for it and is not told; what has ended before is told by other rules.',
  mend: 'Renew it, and write the new date; or accept it with a reason.',
  sources: [{ cite: 'the house (waywarden.settings.yaml)', edition: '1', trust: 'common practice, no source' }],
  needs: ['aircraft'],
  example: {
    faulty: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2024-06-20, seen-by: office }\n',
    sound: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2024-07-20, seen-by: office }\n',
    world:
      'settings: |\n  settings: 1\n  limits: { paper-notice: { is: 30 d, because: the office needs three weeks } }\n',
    soundWorld:
      'settings: |\n  settings: 1\n  limits: { paper-notice: { is: 30 d, because: the office needs three weeks } }\n',
  },

  *check(plan, tools) {
    const notice = tools.settings.limits.paperNotice;
    if (notice === undefined) return;
    const day = tools.ask(flightDay, plan);
    const most = notice.value.value / TIME_UNITS.d;
    const ending = papersOf(tools)
      .map((paper) => ({ ...paper, left: daysBetween(day, paper.until) }))
      .filter(({ left }) => left > 0 && left <= most)
      .sort((one, other) => one.left - other.left);
    const [first, ...more] = ending;
    if (first === undefined) return;
    const said = ({ said: what, until, left }: (typeof ending)[number]): string =>
      `${what} ends on ${sayDate(until)}, ${sayCount(left, 'day')} after`;
    yield {
      found: {
        at: first.at,
        subject: 'the papers',
        message: `the flight is on ${sayDate(day)}, and ${sayList(ending.map(said))}; the house (waywarden.settings.yaml) wants to be told ${sayNumber(most)} days before`,
        measured: { value: first.left, unit: 'days' },
        limit: { value: most, unit: 'days', setBy: 'the house (waywarden.settings.yaml)' },
        related: more.map((paper) => ({ at: paper.at, message: said(paper) })),
      },
    };
  },
});
