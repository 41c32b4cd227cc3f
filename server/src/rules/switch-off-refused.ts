import { nearestWord } from '../plan/scalars/nearest-word.ts';
import type { SwitchedOff } from '../plan/settings.ts';
import { defineRule } from '../rulebook/rule.ts';

const TITLE = 'the settings switch off a rule that cannot be switched off';

/** Why an entry of `off` has no effect; the engine honours only rules of practice with a reason. */
const refusal = (entry: SwitchedOff, practice: ReadonlySet<string>, all: readonly string[]): string | undefined => {
  const id = entry.rule.value;
  if (!all.includes(id)) {
    const near = nearestWord(id, all);
    return `there is no rule "${id}"${near === undefined ? '' : `; did you mean "${near}"?`}`;
  }
  if (!practice.has(id)) return `"${id}" is not a rule of practice, so the settings cannot switch it off`;
  if (entry.because === undefined) return `"${id}" is switched off without a reason, so it stays on`;
  return undefined;
};

export default defineRule({
  visits: 'plan',
  title: TITLE,
  question: 'Which rules apply?',
  level: 'stop',
  basis: 'language',
  why: 'A house may do without a rule of common practice and says why. Law, declared limits and physics stay on in every house.',
  condition:
    'Each entry of `off` in the settings names a rule of practice and gives a reason. A rule that is off stands as "switched-off" in every matrix.',
  mend: 'Take the entry out of the settings, correct its name, or add `because`.',
  sources: [{ cite: 'settings format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  off: [{ rule: point-above-height-limit, because: we know the hill }]\n',
    soundWorld: 'settings: |\n  settings: 1\n  off: [{ rule: plan-reused, because: the site is walled }]\n',
  },

  *check(plan, { settings, ruleNames }) {
    for (const entry of settings.off) {
      const reason = refusal(entry, ruleNames.practice, ruleNames.all);
      if (reason === undefined) continue;
      yield {
        found: {
          at: plan.titleSpan,
          subject: `settings entry ${entry.rule.value}`,
          message: `waywarden.settings.yaml: ${reason}`,
          related: [{ at: entry.span, message: 'the entry stands here' }],
        },
      };
    }
  },
});
