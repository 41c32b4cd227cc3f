import { defineRule } from '../rulebook/rule.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the settings of the house have parts that could not be read',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'House limits are stricter than law. A limit that could not be read would be missing without anyone noticing.',
  condition: 'Everything in `waywarden.settings.yaml` could be read.',
  mend: 'Open the settings file and mend what is underlined.',
  sources: [{ cite: 'settings format 1', edition: '1' }],
  needs: [],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { height: { is: 80, because: house rule } }\n',
  },

  *check(plan, { settings }) {
    if (settings.unreadable !== undefined) {
      yield {
        found: {
          at: plan.titleSpan,
          subject: 'the settings',
          message: `waywarden.settings.yaml ${settings.unreadable}`,
        },
      };
      return;
    }
    const [first] = settings.slips;
    if (first === undefined) return;
    yield {
      found: {
        at: plan.titleSpan,
        subject: 'the settings',
        message: `waywarden.settings.yaml has ${sayCount(settings.slips.length, 'part')} that could not be read, the first about ${first.field ?? first.subject}`,
        related: settings.slips
          .slice(0, 5)
          .map((slip) => ({ at: slip.span, message: `${slip.field ?? slip.subject} could not be read` })),
      },
    };
  },
});
