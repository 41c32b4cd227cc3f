import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'a route of waypoints is planned for an aircraft whose class has no automatic flight',
  question: 'Which rules apply?',
  level: { 'eu-open': 'caution' },
  basis: 'law',
  why: 'A C4 aircraft is a model for flying by hand. Whoever plans waypoints for it will either fly them by hand, which wanders, or by a mode that its class does not have.',
  condition:
    'A plan for an aircraft of class C4 has areas flown by hand and points, but no survey, corridor or circle: patterns that nobody flies by hand.',
  mend: 'Fly the place by hand as an `area`, or take an aircraft of another class.',
  otherReading:
    'The condition is one for the product, not for the flight: the class has no automatic modes beyond stabilising and a lost link. Points can be flown by hand. This tool tells patterns, as a caution.',
  sources: [{ cite: '(EU) 2019/945 annex, part 5', edition: '2026-10-10', trust: 'secondary copy' }],
  needs: ['aircraft'],
  example: {
    faulty:
      'country: FR\ncategory: A3\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-05-02 } }\nroute:\n  - take-off: home\n  - circle: mill\n    around: 45.501, 6.3\n    radius: 30 m\n    altitude: 40 m AGL\n    speed: 5 m/s over ground\n  - land: home\n',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: teal\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 2 kg\n  size: 0.9 m\n  eu-class: C4\n',
  },

  *check(aircraft, { plan }) {
    if (aircraft.euClass?.value !== 'C4' || plan.aircraft === undefined) return;
    const [first, ...more] = plan.items.filter(
      ({ kind }) => kind === 'survey' || kind === 'corridor' || kind === 'circle',
    );
    if (first === undefined) return;
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft is of class C4, which has no automatic modes beyond stabilising and a lost link by (EU) 2019/945, and ${first.kind} ${first.id.value} is a pattern that nobody flies by hand`,
        related: [first, ...more].map(({ id, kind }) => ({ at: id.span, message: `this ${kind} is a pattern` })),
      },
    };
  },
});
