import { civilNightHours } from '../facts/dark-hours.ts';
import { lackingLook } from '../facts/due.ts';
import { present } from '../facts/fact.ts';
import { requireWhole } from '../facts/lacking.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';
import { darkEnd, sayDark, stayInLight } from '../rulebook/say-dark.ts';

const LAW = '49 U.S.C. 44809(a)(2)';

export default defineRule({
  visits: 'plan',
  title: 'a recreational flight reaches into the night, and its lighting is not stated',
  question: 'By day or by night?',
  level: { 'us-recreational': 'caution' },
  basis: 'law',
  why: 'By night a flyer sees only the lights of the aircraft. The guidelines of the community-based organisations say which lights show where it is and which way it points; without them it is lost from sight while still near.',
  condition:
    'At no time of the window, at no place of the route, is it night (the sun’s centre more than 6° below the horizon), or the aircraft file names a light and the crew states in `preflight` that the lighting procedures of the guidelines are followed. As long as times of arrival are not worked out, the whole window counts at every place. A minute at each end is not told.',
  mend: 'End the window before night; or write the lights into the aircraft file and state it: `preflight: [{ covers: [night-lighting-unstated], seen: DATE, by: pilot }]`.',
  sources: [
    {
      cite: '49 U.S.C. 44809(a)(2), lighting procedures of the organisation’s guidelines',
      edition: '2026-11-25',
      trust: 'secondary copy',
    },
    { cite: '14 CFR 1.1 (night)', edition: '2026', trust: 'secondary copy' },
  ],
  needs: ['aircraft'],
  declarable: true,
  example: {
    faulty: 'purpose: recreation\nwindow: { from: 2026-06-14 22:00 -07:00, until: 2026-06-14 22:30 -07:00 }\n',
    sound:
      'purpose: recreation\nwindow: { from: 2026-06-14 22:00 -07:00, until: 2026-06-14 22:30 -07:00 }\npreflight: [{ covers: [night-lighting-unstated], seen: 2026-06-12, by: pilot }]\n',
  },

  *check(plan, { ask, world }) {
    const dark = ask(civilNightHours, plan);
    if (dark.stretches.length === 0) {
      requireWhole(dark);
      return;
    }
    const aircraft = present(world.aircraft);
    if ((aircraft.lights ?? []).length > 0) {
      throw lackingLook(
        plan,
        `${sayDark(dark, 'night', plan)}, and the plan does not state that the lighting procedures of the guidelines are followed`,
      );
    }
    requireRead(aircraft.slips, 'lights');
    yield {
      found: {
        at: darkEnd(dark, plan),
        subject: 'the window',
        message: `${sayDark(dark, 'night', plan)}, and the aircraft file names no light; ${LAW} requires the lighting procedures of the guidelines at night`,
        place: { at: dark.at },
        related: [{ at: aircraft.nameSpan, message: 'the aircraft file names no light' }],
        fixes: stayInLight(dark, plan),
      },
    };
  },
});
