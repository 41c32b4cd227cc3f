import type { Item, Plan } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { inPlainText } from '../rulebook/words.ts';

/** `point "east-bank"`; a hold has no name. */
const sayItem = ({ kind, id }: Item): string => (kind === 'hold' ? 'a hold' : `${kind} "${id.value}"`);

/** The place at which the flight lands without saying where it is, else a name that nothing else bears. */
const freeName = (items: readonly Item[], plan: Plan): string => {
  const landing = items.find((item) => item.kind === 'land' && item.at === undefined && !item.unread);
  if (landing !== undefined) return landing.id.value;
  return plan.items.some((item) => item.id.value === 'home') ? 'take-off-place' : 'home';
};

export default defineRule({
  visits: 'flight',
  title: 'a flight does not begin at a take-off or does not end at a landing',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'A route that stops in the air says nothing about how the aircraft comes down. Height, sight, zones and energy of the way home stay unchecked, and that is where many flights go wrong.',
  condition:
    'Each flight of the route begins with a `take-off` item and ends with a `land` item; only `battery` may follow it.',
  mend: 'Add `- take-off: NAME` before the first and `- land: NAME` after the last item.',
  sources: [{ cite: 'plan format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: 'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n',
    sound:
      'route:\n  - take-off: home\n  - point: bank\n    at: 47.5, -120.498\n    altitude: 60 m AGL\n  - land: home\n',
  },

  *check(flight, { plan }) {
    const items = flight.items.filter((item) => item.kind !== 'battery');
    const first = items[0];
    const last = items[items.length - 1];
    // An unread item may well be the take-off or the landing; its own finding is enough.
    if (first === undefined || last === undefined || items.some((item) => item.kind === 'unread')) return;
    const takeOff = items.find((item) => item.kind === 'take-off');
    if (first.kind !== 'take-off') {
      const { at, indent, style } = first.insertion;
      const name = freeName(items, plan);
      const text =
        style === 'flow'
          ? `{ take-off: ${inPlainText(name)} }, `
          : `${indent}- take-off: ${inPlainText(name)}${plan.eol}`;
      yield {
        found: {
          at: first.id.span,
          subject: `flight ${flight.number}`,
          message: `the flight begins with ${sayItem(first)}, not with a take-off`,
          fixes:
            plan.site.takeOff === undefined
              ? []
              : [
                  {
                    title: `Begin at the take-off place: add "take-off: ${name}"`,
                    effect: 'changes-flight',
                    edits: [{ span: at, text }],
                  },
                ],
        },
      };
    }
    if (last.kind !== 'land') {
      const name = inPlainText(takeOff?.id.value ?? 'home');
      const { after, indent, style } = last.insertion;
      const text = style === 'flow' ? `, { land: ${name} }` : `${plan.eol}${indent}- land: ${name}`;
      yield {
        found: {
          at: last.id.span,
          subject: `flight ${flight.number}`,
          message: `the flight ends with ${sayItem(last)}, not with a landing`,
          fixes:
            takeOff === undefined
              ? []
              : [
                  {
                    title: `Land where it took off: add "land: ${takeOff.id.value}"`,
                    effect: 'changes-flight',
                    edits: [{ span: after, text }],
                  },
                ],
        },
      };
    }
  },
});
