import { defineRule } from '../rulebook/rule.ts';
import { sayTime } from '../units/calendar.ts';

export default defineRule({
  visits: 'item',
  title: "a flight's own window lies outside the window of the plan",
  question: 'Is the plan of today?',
  level: 'stop',
  basis: 'language',
  why: 'Light, papers, zones and weather are judged over the window of the plan. A flight outside it takes place when nothing of that was looked at.',
  condition:
    'Where a `take-off` has a `window`, it begins no earlier and ends no later than the window of the plan, and it ends after it begins.',
  mend: 'Move the window of the take-off into that of the plan, or make that of the plan longer.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n    window: { from: 2026-06-14 06:50 -07:00, until: 2026-06-14 07:20 -07:00 }\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s over ground }\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    window: { from: 2026-06-14 06:50 -07:00, until: 2026-06-14 07:10 -07:00 }\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n    leg: { speed: 8 m/s over ground }\n  - land: home\n',
  },

  *check(item, { plan }) {
    const { window } = item;
    if (window === undefined) return;
    const subject = `take-off ${item.id.value}`;
    const { from, until } = window;
    if (from !== undefined && until !== undefined && until.value.at <= from.value.at) {
      yield {
        found: {
          at: until.span,
          subject,
          message: `the window of ${subject} ends at ${sayTime(until.value)}, which is not after its beginning at ${sayTime(from.value)}`,
          related: [{ at: from.span, message: 'it begins here' }],
        },
      };
      return;
    }
    const whole = plan.window;
    if (whole?.from !== undefined && from !== undefined && from.value.at < whole.from.value.at) {
      yield {
        found: {
          at: from.span,
          subject,
          message: `the window of ${subject} begins at ${sayTime(from.value)}, before that of the plan at ${sayTime(whole.from.value)}`,
          related: [{ at: whole.from.span, message: 'the window of the plan begins here' }],
        },
      };
    }
    if (whole?.until !== undefined && until !== undefined && until.value.at > whole.until.value.at) {
      yield {
        found: {
          at: until.span,
          subject,
          message: `the window of ${subject} ends at ${sayTime(until.value)}, after that of the plan at ${sayTime(whole.until.value)}`,
          related: [{ at: whole.until.span, message: 'the window of the plan ends here' }],
        },
      };
    }
  },
});
