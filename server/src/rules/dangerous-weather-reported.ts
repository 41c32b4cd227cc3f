import { NotAssessed } from '../facts/fact.ts';
import { reportedInWindow, whyNoneSpeaks } from '../facts/weather-in-window.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayList } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'dangerous weather is reported for the window',
  question: 'What weather?',
  level: 'caution',
  basis: 'practice',
  why: 'A thunderstorm throws gusts and hail miles ahead of itself, and ice on a rotor takes its lift within minutes. None of it shows in the wind and the visibility of the hour before.',
  condition:
    'No report that counts for the window has a thunderstorm (also in the vicinity), thunderclouds (CB, TCU), a funnel cloud, squalls, hail, freezing rain, drizzle or fog, a sandstorm or volcanic ash; a forecast not in a temporary or probable change either. Weather by hand does not speak of these.',
  mend: 'Move the window to hours without it, or wait and look again.',
  sources: [
    { cite: 'no flight in or near a thunderstorm or in icing', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['weather'],
  example: {
    faulty:
      'weather:\n  metar: KZZU 141255Z 24006KT 10SM VCTS SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
    sound:
      'weather:\n  metar: KZZU 141255Z 24006KT 10SM RETS SCT080 18/09 A3001\n  stations: [{ code: KZZU, at: { lat: 47.4, lon: -120.5 }, elevation: 376 m }]\n',
  },

  *check(plan, tools) {
    if ((tools.world.reports ?? []).length === 0) return;
    const [first, ...more] = reportedInWindow('hazard', plan, tools).values;
    if (first !== undefined) {
      const said = [...new Set([first, ...more].map(({ by, value, written }) => `${by} has ${value} ("${written}")`))];
      yield {
        found: {
          at: first.at,
          subject: 'the weather',
          message: `${sayList(said)}; common practice does not fly a small aircraft in it`,
        },
      };
    }
    // Weather by hand stands before reports that say nothing of the window.
    if (plan.weather.visibility !== undefined) return;
    const why = whyNoneSpeaks(plan, tools);
    if (why !== undefined) throw new NotAssessed(why.missing, why.due);
  },
});
