import { categoryFixes } from '../rulebook/category-fixes.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean, RULE_SETS } from '../rulebook/rule-set.ts';

/** 14 CFR part 107 subpart D knows the numbers, (EU) 2019/947 the letters and the specific category. */
const isOfPart107 = (category: string): boolean => category.startsWith('category ');

export default defineRule({
  visits: 'plan',
  title: 'the category that the plan states is not one of the rules it is judged by',
  question: 'Which rules apply?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Either the category is a leftover of another plan, or the country or the purpose is wrong and the flight is judged by the wrong law.',
  condition:
    'A1, A2, A3 and the specific category are those of the European Union; category 1 to 4, for flight over people, those of part 107 in the United States. Recreational flight has none.',
  mend: 'Correct the country or the purpose, take the category out, or write the one that is meant.',
  sources: [
    {
      cite: '14 CFR 107.100 to 107.165',
      edition: '2026',
      trust: 'secondary copy',
      for: ['us-recreational', 'us-part-107'],
    },
    { cite: '(EU) 2019/947 Art. 3 to 5', edition: '2026-10-10', trust: 'secondary copy' },
  ],
  needs: [],
  example: { faulty: 'category: A3\n', sound: 'category: category 1\n' },

  *check(plan, { ruleSet, world }) {
    if (plan.category === undefined || ruleSet === undefined) return;
    const { value, span } = plan.category;
    const ofPart107 = isOfPart107(value);
    if (ruleSet === 'us-part-107' ? ofPart107 : ruleSet !== 'us-recreational' && !ofPart107) return;
    const law = ofPart107 ? '14 CFR part 107 subpart D' : '(EU) 2019/947';
    yield {
      found: {
        at: span,
        subject: 'the plan',
        message: `the plan states "${value}", a category of ${law}, but it is judged by the rules for ${RULE_SETS[ruleSet].name}`,
        fixes: isEuropean(ruleSet) ? categoryFixes(plan.category, plan, world) : [],
      },
    };
  },
});
