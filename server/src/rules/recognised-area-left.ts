import { NotAssessed } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'an aircraft without remote identification may leave the recognised area',
  question: 'May I fly here?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop' },
  basis: 'law',
  why: 'Inside a recognised identification area the place itself tells who is flying. One metre outside of it the aircraft is one that nobody can identify.',
  condition:
    'An aircraft whose means is the `recognised area` stays inside the bounds of one and within sight, and its pilot stands in it, for the whole flight. The files of this release do not hold such areas, so the crew answers it in a `preflight` statement: after comparing the route, and the way back after a lost link, with the published bounds.',
  exceptions: 'Recognition lasts 48 months: look up whether it still holds.',
  mend: 'Compare, and state it: `preflight: [{ covers: [recognised-area-left], seen: DATE, by: pilot }]`. Or take an aircraft with remote identification.',
  sources: [{ cite: '14 CFR 89.115(b)', edition: '2026', trust: 'from memory' }],
  needs: ['aircraft'],
  declarable: true,
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: recognised area }\n',
  },

  check(aircraft) {
    if (aircraft.remoteId?.means?.value !== 'recognised area') return [];
    throw new NotAssessed(
      'the aircraft relies on a recognised identification area, and the plan does not say that its whole flight stays in one',
    );
  },
});
