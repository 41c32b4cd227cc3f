import { competencyDuty } from '../facts/competency-duty.ts';
import { given } from '../facts/fact.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the pilot does not hold the proof that this flight asks for',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'The test is where a pilot learns which airspace is whose, what weather does and what to do when things go wrong. Who has not passed it does not know what was missed.',
  condition:
    'The plan says in `crew: { pilot: { held: ... } }` what the pilot holds. Part 107: a remote pilot certificate. Recreation: proof of the aeronautical knowledge and safety test, to be shown on request. EU open category: the A1/A3 proof of online training and test; in A2 the A2 certificate.',
  exceptions:
    'In A1 nothing is asked of the pilot of a C0, or of one below 250 g without a mark, beyond knowing the manual. Part 107 lets another person fly under the direct supervision of the remote pilot, who can take over at once; that pilot stands in the plan then. In the specific category the authorisation says what is asked.',
  mend: 'Write what the pilot holds, in these words: remote pilot, recreational test, A1/A3 proof, A2 certificate. A remote pilot certificate is not the recreational test, nor the other way round; who holds both writes both.',
  sources: [
    { cite: '14 CFR 107.12, 107.7', edition: '2026', for: ['us-part-107'] },
    {
      cite: '49 U.S.C. 44809(a)(7), (g)',
      edition: '2018, with amendments read up to 2026-11-25',
      for: ['us-recreational'],
    },
    {
      cite: '(EU) 2019/947 Art. 8, UAS.OPEN.020(4), .030(2), .040(3)',
      edition: '2026-10-10',
      trust: 'secondary copy',
      for: ['eu-open'],
    },
  ],
  ask: { whom: 'whoever gives the test or the training', kind: 'competency' },
  needs: ['aircraft'],
  example: {
    faulty: 'crew:\n  pilot: { stands: take-off, held: A1/A3 proof, tested: 2025-11-03, seen-by: office }\n',
    sound: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, seen-by: office }\n',
  },

  *check(plan, { ask }) {
    const held = plan.crew.pilot?.held;
    const duty = ask(competencyDuty, plan);
    if (duty === undefined) return;
    if (held === undefined) requireRead(plan.slips, 'crew pilot held');
    const { value, span } = given(held, `what certificate or proof the pilot holds ("held")`);
    if (duty.named.test(value)) return;
    yield {
      found: {
        at: span,
        subject: 'the pilot',
        message: `the pilot holds "${value}", and ${duty.law} requires ${duty.proof}, written "${duty.written}"`,
      },
    };
  },
});
