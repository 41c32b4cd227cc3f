import { placeNames } from '../facts/lost-link.ts';
import { requireRead } from '../facts/unread.ts';
import { nearestWord } from '../plan/scalars/nearest-word.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayList } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has planned what the aircraft does when the link is lost',
  question: 'Will it come home?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'stop', 'eu-open': 'caution' },
  basis: 'law',
  why: 'Links fail: behind a building, near a mast, by an empty battery on the ground. What the aircraft does then it does alone, and it does what was set before take-off, whether anybody thought of it or not. A height that was left from the last flight has flown many aircraft into the hill behind the pilot.',
  condition:
    'The plan has `lost-link` with what the aircraft does (`then`). Where it flies to a place, the plan has that place, or a position (`at`).',
  mend: 'Look up what is set in the aircraft, set what fits this place, and write it down: `lost-link: { after: 5 s, climb-to: 60 m above take-off, then: fly back and land }`.',
  otherReading:
    'The law has no list of what to plan: 14 CFR 107.19(c) asks that a loss of control for any reason does no undue harm. A plan without an answer to the commonest reason is taken to fall short of that.',
  sources: [
    { cite: '14 CFR 107.19(c), 107.49', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: 'planning for a lost link', edition: '1', trust: 'common practice, no source', for: ['us-recreational'] },
  ],
  needs: [],
  example: {
    faulty: 'lost-link: { after: 5 s, climb-to: 60 m above take-off, then: fly to nowhere }\n',
    sound: 'lost-link: { after: 5 s, climb-to: 60 m above take-off, then: fly to east-bank }\n',
  },

  *check(plan, { ruleSet }) {
    const { lostLink } = plan;
    if (lostLink?.action === undefined) {
      requireRead(plan.slips, 'lost-link', lostLink?.span);
      yield {
        found: {
          at: lostLink?.span ?? plan.titleSpan,
          subject: 'the lost link',
          message: `the plan does not say what the aircraft does when the link is lost${lostLink === undefined ? ' (lost-link)' : ' (then)'}; ${ruleSet === 'us-part-107' ? '14 CFR 107.19(c)' : 'common practice'} asks for it`,
        },
      };
      return;
    }
    const { to, at } = lostLink;
    if (to === undefined || at !== undefined) return;
    const names = placeNames(plan);
    if (names.includes(to.value)) return;
    const near = nearestWord(to.value, names);
    yield {
      found: {
        at: to.span,
        subject: 'the lost link',
        message: `after a lost link the aircraft flies to "${to.value}", which is no take-off, point or landing of this plan and has no position (at)${names.length === 0 ? '' : `; the plan has ${sayList([...new Set(names)].map((name) => `"${name}"`))}`}`,
        fixes:
          near === undefined
            ? []
            : [
                {
                  title: `Write "fly to ${near}" (was "fly to ${to.value}")`,
                  effect: 'changes-flight',
                  edits: [{ span: to.span, text: `fly to ${near}` }],
                },
              ],
      },
    };
  },
});
