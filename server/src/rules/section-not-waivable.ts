import { defineRule } from '../rulebook/rule.ts';
import { RULE_SETS } from '../rulebook/rule-set.ts';
import { isSection, namedSections, waivable, waivableIn } from '../rulebook/waiver-sections.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'a waiver names a section that cannot be waived',
  question: 'What papers?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'stop', 'eu-open': 'caution', 'eu-specific': 'caution' },
  basis: 'law',
  why: 'Only some sections can be waived. Whoever believes that the others are lifted breaks them, with a paper in hand that was read wrongly or written down wrongly.',
  condition:
    'Each section that a waiver names is one of 14 CFR 107.205: 107.25, 107.29(a)(2) and (b), 107.31, 107.33, 107.35, 107.37(a), 107.39, 107.41, 107.51, 107.145, or a paragraph of one. Of 107.29 only the light can be waived, not the training. Other rule sets know no such waivers.',
  mend: 'Write the sections as they stand on the waiver, with their paragraphs. What none of them lifts has to be flown by the rule.',
  sources: [
    { cite: '14 CFR 107.200, 107.205', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '49 U.S.C. 44809', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    {
      cite: '(EU) 2019/947 Art. 5, 12',
      edition: '2026-10-10',
      trust: 'secondary copy',
      for: ['eu-open', 'eu-specific'],
    },
  ],
  needs: [],
  example: {
    faulty:
      'authorisations: [{ number: W-7, sections: 14 CFR 107.47, from: 2026-06-01, until: 2026-06-30, holder: pilot }]\n',
    sound:
      'authorisations: [{ number: W-7, sections: 14 CFR 107.51(b), up-to: 150 m AGL, from: 2026-06-01, until: 2026-06-30, holder: pilot }]\n',
  },

  *check(plan, { ruleSet }) {
    if (ruleSet === undefined) return;
    for (const paper of plan.authorisations) {
      const named = namedSections(paper);
      const wrong = ruleSet === 'us-part-107' ? named.filter(({ section }) => waivable(section) === undefined) : named;
      const [first, ...more] = wrong;
      if (first === undefined) continue;
      const { section, written } = first;
      const parts = waivableIn(section);
      const others = more.length === 0 ? '' : ` (and ${sayCount(more.length, 'more section')})`;
      const says =
        ruleSet !== 'us-part-107'
          ? `which lifts nothing of the rules for ${RULE_SETS[ruleSet].name}`
          : !isSection(section)
            ? 'which is no section of 14 CFR part 107'
            : parts.length > 0
              ? `of which 14 CFR 107.205 lets only ${parts.join(' and ')} be waived`
              : 'which is not among those that 14 CFR 107.205 lets be waived';
      yield {
        found: {
          at: written.span,
          subject: `waiver ${paper.number?.value ?? 'without a number'}`,
          message: `waiver "${paper.number?.value ?? 'without a number'}" names "${written.value}"${others}, ${says}`,
        },
      };
    }
  },
});
