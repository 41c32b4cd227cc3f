import { selectRuleSet } from '../rulebook/countries.ts';
import { defineRule } from '../rulebook/rule.ts';
import { allElsewhere } from '../rulebook/territory.ts';
import { sayPosition } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the positions do not lie in the country that the plan states',
  question: 'Which rules apply?',
  level: 'stop',
  basis: 'language',
  why: 'Either the country or a position is wrong. With the wrong country the flight is judged by the wrong law; with a wrong position everything about ground and airspace is judged at the wrong place.',
  condition:
    'At least one position of the plan lies within a generous box around the country or its rule area. A single position that lies elsewhere is told by the rules about positions.',
  mend: 'Correct the country, or the position: a lost sign and swapped latitude and longitude are the usual causes.',
  sources: [{ cite: 'boxes around territories', edition: '1', trust: 'from memory' }],
  needs: [],
  example: { faulty: 'country: FR\n', sound: 'country: US\n' },

  *check(plan, { settings }) {
    const country = plan.country ?? settings.country;
    if (country === undefined) return;
    const { ruleSet } = selectRuleSet(country.value, plan.purpose?.value);
    if (ruleSet === undefined) return;
    const outside = allElsewhere(plan, ruleSet);
    const [first] = outside;
    if (first === undefined) return;
    yield {
      found: {
        at: plan.country?.span ?? plan.titleSpan,
        subject: 'the plan',
        message: `the ${plan.country === undefined ? 'settings state' : 'plan states'} the country "${country.value}", but ${sayPosition(first.value)} does not lie there`,
        related: outside.slice(1, 6).map((at) => ({ at: at.span, message: 'this position lies elsewhere, too' })),
      },
    };
  },
});
