import { takeOffNames } from '../facts/take-off-names.ts';
import { nearestWord } from '../plan/scalars/nearest-word.ts';
import { defineRule } from '../rulebook/rule.ts';
import { inPlainText } from '../rulebook/words.ts';
import { sayList } from '../units/say.ts';

export default defineRule({
  visits: 'item',
  title: 'a landing names a place that the plan does not have',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'The last leg leads to the landing place. Where the place is not known, neither is the leg, and nothing about it was checked.',
  condition: '`land` names a take-off of the plan, or has a position of its own (`at`).',
  mend: 'Write the name as it stands at the take-off, or add the position.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: hom\n',
    sound:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(item, { ask, plan }) {
    if (item.kind !== 'land' || item.at !== undefined || item.unread) return;
    const { names: places, whole } = ask(takeOffNames, plan);
    // A take-off that is not there, or that could not be read, is told where it is missing.
    if (places.length === 0 || !whole) return;
    if (places.includes(item.id.value)) return;
    const near = nearestWord(item.id.value, places);
    const names = `the plan has ${sayList([...new Set(places)].map((name) => `"${name}"`))}`;
    const wanted = near ?? (new Set(places).size === 1 ? places[0] : undefined);
    yield {
      found: {
        at: item.id.span,
        subject: `landing ${item.id.value}`,
        message: `the landing names "${item.id.value}", which is no take-off of this plan and has no position; ${names}`,
        fixes:
          wanted === undefined
            ? []
            : [
                {
                  title: `Write "${wanted}" (was "${item.id.value}")`,
                  effect: 'changes-flight',
                  edits: [{ span: item.id.span, text: inPlainText(wanted) }],
                },
              ],
      },
    };
  },
});
