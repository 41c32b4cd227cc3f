import { lackingOnDay } from '../facts/due.ts';
import { defineRule } from '../rulebook/rule.ts';
import { startOf } from '../text/span.ts';

export default defineRule({
  visits: 'lift',
  title: 'a waiver that lifts something has conditions, and nobody has said that they are met',
  question: 'What papers?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'A waiver lets you leave a rule because something else keeps people from harm: a second observer, a closed road, a light. Without that, the rule is broken and nothing stands in its place.',
  condition:
    'Each waiver that lifts a finding of this plan has no conditions, or a preflight statement of the crew covers this rule. It can be said from 24 hours before the flight on.',
  mend: 'When every condition is met, say so: `preflight: [{ covers: [waiver-condition-unstated], seen: DATE, by: pilot }]`.',
  sources: [{ cite: '14 CFR 107.200(d)', edition: '2026-01-01', trust: 'from memory' }],
  needs: [],
  declarable: true,
  example: {
    faulty:
      'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 4 km, cloud-base: none }\nauthorisations: [{ number: W-7, sections: 14 CFR 107.51(c), from: 2026-06-01, until: 2026-06-30, holder: pilot, conditions: [two observers] }]\n',
    sound:
      'weather: { wind: { from: 240 deg, speed: 3 m/s }, visibility: 4 km, cloud-base: none }\nauthorisations: [{ number: W-7, sections: 14 CFR 107.51(c), from: 2026-06-01, until: 2026-06-30, holder: pilot, conditions: [two observers] }]\npreflight: [{ covers: [crew, aircraft, traffic, guidelines, waiver-condition-unstated], seen: 2026-06-13, by: pilot }]\n',
  },

  *check({ kind, span }, { plan }) {
    if (kind !== 'waiver') return;
    const waiver = plan.authorisations.find((paper) => startOf(paper.span) === startOf(span));
    const [first, ...more] = waiver?.conditions ?? [];
    if (first === undefined) return;
    const others = more.map(({ value }) => `, "${value}"`).join('');
    throw lackingOnDay(
      plan,
      `waiver "${waiver?.number?.value ?? ''}" holds on condition "${first.value}"${others}; that each is met can be stated in preflight`,
    );
  },
});
