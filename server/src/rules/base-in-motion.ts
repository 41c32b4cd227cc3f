import { NotAssessed } from '../facts/fact.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';
import { waiversOf } from '../rulebook/waived.ts';

const SECTION = '107.25';

export default defineRule({
  visits: 'plan',
  title: 'the pilot flies from something that moves',
  question: 'May I fly here?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'Who moves along loses the picture: where the aircraft is, where the road goes, and where it lands when the link is lost.',
  condition:
    'The pilot stands still; never in a moving aircraft. In a moving land vehicle or boat only over a sparsely populated area, and not to carry the property of another for pay. "Sparsely populated" has no number, so that the crew says it in `preflight`.',
  mend: 'Stop while flying: take `moves` out. Or state it: `preflight: [{ covers: [base-in-motion], seen: DATE, by: pilot }]`, which does nothing for a moving aircraft.',
  sources: [{ cite: '14 CFR 107.25', edition: '2026-01-01' }],
  needs: [],
  declarable: true,
  waivable: ['14 CFR 107.25'],
  example: {
    faulty:
      'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office, moves: aircraft }\n',
    sound: '',
  },

  *check(plan) {
    const moves = plan.crew.pilot?.moves;
    if (moves === undefined) {
      requireRead(plan.slips, 'crew pilot moves', plan.crew.span);
      return;
    }
    const isWaived = waiversOf(plan, SECTION).some(({ mismatch }) => mismatch === undefined);
    // A waiver lifts a finding; where nobody needs one, the question is whether the place is sparsely populated.
    if (moves.value !== 'aircraft' && !isWaived) {
      throw new NotAssessed(
        `the pilot flies from a moving ${moves.value}; 14 CFR ${SECTION} allows it over sparsely populated areas only and not to carry property for pay, and the plan says neither`,
      );
    }
    yield {
      found: {
        at: moves.span,
        subject: 'the pilot',
        message: `the pilot flies from a moving ${moves.value}; 14 CFR ${SECTION} allows ${moves.value === 'aircraft' ? 'no flight from a moving aircraft' : 'it over sparsely populated areas only'}`,
      },
    };
  },
});
