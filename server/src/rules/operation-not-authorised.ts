import { requireRead } from '../facts/unread.ts';
import { operationPapers, paperMismatch, sayPaper } from '../rulebook/operation-paper.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'an operation in the specific category has no authorisation that holds',
  question: 'What papers?',
  level: { 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Outside the limits of the open category somebody has to have judged the risk of this very operation before it is flown: the authority, the author of a standard scenario, or an operator whom the authority trusts to do so.',
  condition:
    'The plan has an authorisation whose `kind` is operational authorisation, operational declaration (for a standard scenario) or operator certificate (light UAS operator certificate), with a number, that holds for the whole window and belongs to somebody of this crew or to the operator.',
  mend: 'Write the paper into `authorisations`: `{ kind: operational authorisation, number: ..., up-to: ..., from: ..., until: ..., holder: operator }`.',
  sources: [
    { cite: '(EU) 2019/947 Art. 3(b), 5, 12, UAS.SPEC.030, UAS.LUC.010', edition: '2026-10-10', trust: 'from memory' },
  ],
  ask: { whom: 'the aviation authority where the operator is registered', kind: 'operation' },
  needs: [],
  example: {
    faulty: 'country: FR\ncategory: specific\n',
    sound:
      'country: FR\ncategory: specific\nauthorisations: [{ kind: operational authorisation, number: FRA-OAT-0000, up-to: 120 m AGL, from: 2026-06-01, until: 2027-05-31, holder: operator }]\n',
  },

  *check(plan, tools) {
    const papers = operationPapers(plan);
    const mismatches = papers.map((paper) => ({ paper, why: paperMismatch(paper, tools) }));
    if (mismatches.some(({ why }) => why === undefined)) return;
    requireRead(plan.slips, 'authorisations');
    const law = '(EU) 2019/947 Art. 5';
    const asks = `${law} requires an operational authorisation, a declaration or an operator certificate`;
    const [first] = mismatches;
    yield {
      found: {
        at: first?.paper.span ?? plan.category?.span ?? plan.titleSpan,
        subject: 'the operation',
        message:
          first === undefined
            ? `the plan flies in the specific category and names no authorisation for the operation; ${asks}`
            : `${mismatches.map(({ paper, why }) => `${sayPaper(paper)} ${why ?? ''}`).join('; ')}; ${asks} that holds`,
      },
    };
  },
});
