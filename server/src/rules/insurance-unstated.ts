import { given, NotAssessed } from '../facts/fact.ts';
import { defineRule } from '../rulebook/rule.ts';
import { kilograms } from '../units/frames.ts';
import { sayNumber } from '../units/say.ts';

/** Aircraft below it are left out of Regulation (EC) 785/2004, Art. 2(2)(b): from memory. */
const INSURED_FROM = kilograms(20);

export default defineRule({
  visits: 'aircraft',
  title: 'nobody has stated that a heavy aircraft is insured against what it does to others',
  question: 'What papers?',
  level: { 'eu-open': 'caution', 'eu-specific': 'caution' },
  basis: 'law',
  why: 'What falls from the sky is paid for by whoever flew it. From 20 kg upward the Union asks for insurance; below that most of its States do by laws of their own.',
  condition: 'From 20 kg (44.1 lb) on take-off the crew states in `preflight` that third parties are insured.',
  exceptions: 'Below 20 kg the law of the State decides, which is not in this release. Look it up.',
  mend: 'Look at the policy and state it: `preflight: [{ covers: [insurance-unstated], seen: DATE, by: office }]`.',
  sources: [{ cite: 'Regulation (EC) 785/2004', edition: '2026-10-10', trust: 'from memory' }],
  needs: ['aircraft'],
  declarable: true,
  example: {
    faulty: 'country: FR\n',
    sound: 'country: FR\n',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bustard\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 20 kg\n  size: 1.9 m\n',
  },

  check(aircraft) {
    const { value } = given(aircraft.mass, 'the take-off mass of the aircraft');
    if (value < INSURED_FROM) return [];
    throw new NotAssessed(
      `the aircraft weighs ${sayNumber(value, 2)} kg, from 20 kg upward Regulation (EC) 785/2004 asks for insurance, and the plan says nothing of it`,
    );
  },
});
