import { present } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the aircraft file has parts that could not be read',
  question: 'Does the plan say what I mean?',
  level: 'stop',
  basis: 'language',
  why: 'Mass, limits and papers of the aircraft come from its file. What could not be read there was not checked here. The mistakes themselves stand in that file; open it to see and mend them.',
  condition: 'Everything in the aircraft file could be read.',
  mend: 'Open the aircraft file and mend what is underlined.',
  sources: [{ cite: 'aircraft format 1', edition: '1' }],
  needs: ['aircraft'],
  example: {
    faulty: 'aircraft: craft.aircraft.yaml\n',
    sound: 'aircraft: craft.aircraft.yaml\n',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1,4 kg\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(plan, { world }) {
    const { aircraft } = world;
    if (plan.aircraft === undefined) return;
    // What could not be opened was not read, so nobody knows whether it holds faults.
    const { slips } = present(aircraft);
    const [first] = slips;
    if (first === undefined) return;
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft file',
        message: `"${plan.aircraft.value}" has ${sayCount(slips.length, 'part')} that could not be read, the first about ${first.field ?? first.subject}`,
        related: slips
          .slice(0, 5)
          .map((slip) => ({ at: slip.span, message: `${slip.field ?? slip.subject} could not be read` })),
      },
    };
  },
});
