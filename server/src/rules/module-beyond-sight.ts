import { present } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';
import { waiversOf } from '../rulebook/waived.ts';
import { namedSections } from '../rulebook/waiver-sections.ts';

export default defineRule({
  visits: 'plan',
  title: 'a flight beyond sight is planned with a broadcast module',
  question: 'Who must see it?',
  level: { 'us-part-107': 'stop' },
  basis: 'law',
  why: 'A module tells where the aircraft took off, not where its pilot is. That is enough only while the pilot is near enough to see the aircraft.',
  condition:
    'An aircraft whose remote identification is a `module` is seen by the person at its controls at all times: the plan has no waiver of 14 CFR 107.31.',
  mend: 'Take an aircraft with standard remote identification, or stay in sight and leave the waiver out. A waiver of 107.31 does not lift this; only a permission under part 89 does.',
  sources: [{ cite: '14 CFR 89.115(a)', edition: '2026', trust: 'from memory' }],
  needs: ['aircraft'],
  example: {
    faulty: 'authorisations: [{ number: W-7, zone: "107.31", from: 2026-06-01, until: 2026-06-30, holder: pilot }]\n',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: module, serial: WAYW8BT000002 }\n',
  },

  *check(plan, { world }) {
    const [first] = waiversOf(plan, '107.31');
    if (first === undefined) return;
    const means = present(world.aircraft).remoteId?.means;
    if (means?.value !== 'module') return;
    yield {
      found: {
        at: namedSections(first.waiver)[0]?.written.span ?? first.waiver.span,
        subject: 'the plan',
        message: `waiver "${first.waiver.number?.value ?? 'without a number'}" is for flight beyond sight, but the aircraft identifies itself by a module; 14 CFR 89.115(a) requires the person at the controls to see it at all times`,
        related: [{ at: means.span, message: 'the aircraft has a module' }],
      },
    };
  },
});
