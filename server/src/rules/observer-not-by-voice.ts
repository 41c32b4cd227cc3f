import { sayMember } from '../facts/watchers.ts';
import { defineRule } from '../rulebook/rule.ts';

/** Words for talking through something else than air. */
const DEVICES =
  /\b(?:radios?|telephones?|phones?|mobiles?|cell|walkie|talkie|headsets?|intercoms?|video|chat|messages?)\b/i;

export default defineRule({
  visits: 'plan',
  title: 'an observer of a recreational flight talks by a device',
  question: 'Who must see it?',
  level: { 'us-recreational': 'caution' },
  basis: 'law',
  why: 'In recreation the observer stands next to the flyer and talks without any device. Whoever needs a radio stands too far away to see the same sky, and does not extend how far the flyer may go.',
  condition:
    'In a recreational flight `talks-by` of every observer names no radio, telephone or other device. Under part 107 radio is fine.',
  mend: 'Let the observer stand beside the pilot and talk by voice.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(3)', edition: '2018, with amendments read up to 2026-11-25' },
    { cite: 'AC 91-57C, observer next to the flyer', edition: 'not dated', trust: 'secondary copy' },
  ],
  needs: [],
  example: {
    faulty:
      'purpose: recreation\ncrew:\n  pilot: { stands: take-off, held: knowledge test, tested: 2025-11-03 }\n  observers:\n    - { name: second, stands: beside pilot, talks-by: radio }\n',
    sound:
      'purpose: recreation\ncrew:\n  pilot: { stands: take-off, held: knowledge test, tested: 2025-11-03 }\n  observers:\n    - { name: second, stands: beside pilot, talks-by: voice }\n',
  },

  *check(plan) {
    for (const observer of plan.crew.observers) {
      const { talksBy } = observer;
      if (talksBy === undefined || !DEVICES.test(talksBy.value)) continue;
      yield {
        found: {
          at: talksBy.span,
          subject: sayMember(observer),
          message: `${sayMember(observer)} talks by "${talksBy.value}"; 49 U.S.C. 44809(a)(3) asks for one who is with the flyer and talks directly`,
          fixes: [
            {
              title: `Talk by voice (was "${talksBy.value}")`,
              effect: 'changes-flight',
              edits: [{ span: talksBy.span, text: 'voice' }],
            },
          ],
        },
      };
    }
  },
});
