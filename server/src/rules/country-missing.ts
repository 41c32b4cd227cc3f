import { requireRead } from '../facts/unread.ts';
import type { Plan } from '../plan/model.ts';
import { selectRuleSet } from '../rulebook/countries.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean } from '../rulebook/rule-set.ts';
import { allElsewhere, isInUnitedKingdom } from '../rulebook/territory.ts';
import { newKey } from '../rulebook/words.ts';

const OFFERED = ['US', 'FR', 'DE'];

/** Positions never choose a country, but one that they contradict is not offered. */
const fits = (code: string, plan: Plan): boolean => {
  const { ruleSet } = selectRuleSet(code, plan.purpose?.value ?? '');
  if (ruleSet === undefined || allElsewhere(plan, ruleSet).length > 0) return false;
  return !isEuropean(ruleSet) || !isInUnitedKingdom(plan);
};

export default defineRule({
  visits: 'plan',
  title: 'neither the plan nor the settings say in which country the flight is',
  question: 'Which rules apply?',
  level: 'stop',
  basis: 'language',
  why: 'Each country has its own rules of the air. Without the country no rule of law can be chosen, and none was checked. The country is never guessed from the coordinates: a slipped digit would choose the wrong law.',
  condition: 'The plan has `country`, or `waywarden.settings.yaml` has it for all plans of the house.',
  mend: 'Add `country: US`, or the two-letter code of the country in which the flight takes place.',
  sources: [{ cite: 'ISO 3166-1 alpha-2', edition: '2020', trust: 'from memory' }],
  needs: [],
  example: { faulty: '# without=country\n', sound: 'country: US\n' },

  *check(plan, { settings }) {
    if (plan.country !== undefined || settings.country !== undefined) return;
    requireRead(plan.slips, 'country');
    requireRead(settings.slips, 'country');
    yield {
      found: {
        at: plan.titleSpan,
        subject: 'the plan',
        message: 'the plan states no country and the settings have none, so no rule of law was checked',
        fixes: OFFERED.filter((code) => fits(code, plan)).map((code) => ({
          title: `Add "country: ${code}"`,
          effect: 'changes-flight' as const,
          edits: [newKey(plan, `country: ${code}`)],
        })),
      },
    };
  },
});
