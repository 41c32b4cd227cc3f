import { given, present } from '../facts/fact.ts';
import { groundRiskClass } from '../facts/ground-risk-class.ts';
import { operationPapers } from '../rulebook/operation-paper.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the ground risk is higher than the plan states',
  question: 'What papers?',
  level: { 'eu-specific': 'stop' },
  basis: 'declared',
  why: 'The ground risk class decides how reliable the aircraft, its crew and its operator have to be. A class stated too low means that the flight is prepared for less risk than it has.',
  condition:
    'The intrinsic ground risk class by the edition of SORA that the plan names, from the size and greatest speed of the aircraft and the density of people (2.5), or its size, its energy and the kind of ground (2.0), is not higher than the `initial-class` that is stated; and what is left of it after the mitigations that are stated, none other, is not higher than the `final-class`. In SORA 2.0 the energy is that of the greatest speed, or of the terminal speed of a fall where the aircraft file has a `drag-area` and that is higher.',
  exceptions:
    'An operational declaration for a standard scenario needs no class of its own. Which edition counts is for the authority to say. Containment and the air risk are not judged.',
  mend: 'State the class that follows, with the mitigations that are really in place, and see whether the authorisation covers it; or fly a smaller aircraft, or over fewer people.',
  sources: [
    { cite: 'JARUS SORA 2.5, main body, step 2 (JAR_doc_25)', edition: '2.5', trust: 'secondary copy' },
    { cite: 'JARUS SORA 2.0, main body, step 2 (JAR_doc_06)', edition: '2.0', trust: 'secondary copy' },
    { cite: '(EU) 2019/947 Art. 11; ED Decision 2025/018/R', edition: '2025-09-29', trust: 'secondary copy' },
  ],
  needs: ['aircraft'],
  example: {
    faulty:
      'country: FR\ncategory: specific\nground-risk: { edition: SORA 2.5, density: 300 /km2, initial-class: 3 }\n',
    sound: 'country: FR\ncategory: specific\nground-risk: { edition: SORA 2.5, density: 300 /km2, initial-class: 4 }\n',
  },

  *check(plan, { world }) {
    const papers = operationPapers(plan);
    if (papers.length > 0 && papers.every(({ kind }) => kind?.value === 'operational declaration')) return;
    const stated = given(plan.groundRisk, 'the ground risk class and what it is worked out from (ground-risk)');
    const { edition, initial, final, from } = groundRiskClass(stated, present(world.aircraft));
    const initialStated = given(stated.initialClass, 'the class that is stated (ground-risk: initial-class)');
    if (initial === 'outside' || initial > initialStated.value) {
      yield {
        found: {
          at: initialStated.span,
          subject: 'the ground risk',
          message:
            initial === 'outside'
              ? `the plan states an initial ground risk class of ${initialStated.value}; by ${edition} the operation lies outside of the method (${from})`
              : `the plan states an initial ground risk class of ${initialStated.value}; by ${edition} it is ${initial} (${from})`,
          related: [{ at: stated.span, message: 'what it is worked out from' }],
        },
      };
      return;
    }
    const finalStated = stated.finalClass;
    if (finalStated === undefined || final === undefined) return;
    if (final <= finalStated.value) return;
    yield {
      found: {
        at: finalStated.span,
        subject: 'the ground risk',
        message: `the plan states a final ground risk class of ${finalStated.value}; by ${edition} the mitigations that it names leave ${final}`,
        related: [{ at: stated.span, message: `the initial class is ${initial} (${from})` }],
      },
    };
  },
});
