import { NotAssessed } from '../facts/fact.ts';
import { selectRuleSet } from '../rulebook/countries.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean } from '../rulebook/rule-set.ts';
import { isInUnitedKingdom } from '../rulebook/territory.ts';

export default defineRule({
  visits: 'plan',
  title: 'the rules of law for this flight cannot be chosen',
  question: 'Which rules apply?',
  level: 'stop',
  basis: 'language',
  why: 'A plan can only be judged by rules that are known here. For other countries everything that does not depend on law is still checked; the law is not, and the report says so.',
  condition:
    'The country is the United States, or a State in which (EU) 2019/947 applies, as a two-letter code; in the United States the plan also states its purpose. The United Kingdom has rules of its own, which are not in this release.',
  mend: 'Correct the code of the country, or state the purpose. For a country whose rules are not here, have the plan judged by someone who knows them.',
  sources: [{ cite: '(EU) 2019/947', edition: '2026-11-25' }],
  needs: [],
  example: { faulty: 'country: GB\n', sound: 'country: US\n' },

  check(plan, { settings }) {
    const country = plan.country?.value ?? settings.country?.value;
    if (country === undefined) return [];
    const { because, ruleSet } = selectRuleSet(country, plan.purpose?.value);
    if (because !== undefined) throw new NotAssessed(because);
    if (isEuropean(ruleSet) && isInUnitedKingdom(plan)) {
      throw new NotAssessed(
        `the positions of the plan lie in the United Kingdom, whose rules are not in this release and are not those of "${country}"`,
      );
    }
    return [];
  },
});
