import { defineRule } from '../rulebook/rule.ts';
import { sayAskedFor, sayLeadTime } from '../rulebook/say-owed.ts';
import { dateAt, sayDate } from '../units/calendar.ts';

export default defineRule({
  visits: 'owed',
  title: 'there is less time left than an answer usually takes',
  question: 'What papers?',
  level: 'caution',
  basis: 'practice',
  why: 'An answer that comes after the flight helps nobody, and a crew that stands ready in the field is tempted to go without it.',
  condition:
    'What a finding of this plan has to be asked for can still be asked in time: the beginning of the window lies as far ahead as the house says the answer takes (`lead-times` in the settings). Without such a time nothing is judged.',
  mend: 'Ask today and be ready to move the flight, or change the plan so that nobody has to be asked.',
  sources: [{ cite: 'the settings of the house', edition: 'as the house states', trust: 'common practice, no source' }],
  needs: ['now'],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.499\n    altitude: 130 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.499\n    altitude: 110 m AGL\n  - land: home\n',
    world: 'settings: |\n  settings: 1\n  lead-times: { waiver: 90 d }\n',
    soundWorld: 'settings: |\n  settings: 1\n  lead-times: { waiver: 90 d }\n',
  },

  *check(owed, { plan }) {
    const { by, late, kind, whom, at } = owed;
    if (!late || by === undefined) return;
    const day = sayDate(dateAt(by, plan.window?.from?.value.offsetMinutes ?? 0));
    const settings = owed.leadTime?.span;
    yield {
      found: {
        at,
        subject: `${kind} from ${whom}`,
        message: `${sayAskedFor(owed)} from ${whom} ${sayLeadTime(owed)}, so it was to be asked for by ${day}; it may not come in time`,
        related: settings === undefined ? [] : [{ at: settings, message: 'the house states the time here' }],
      },
    };
  },
});
