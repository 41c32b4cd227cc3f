import { operatorNumberFault, withoutSecret } from '../facts/operator-number.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean } from '../rulebook/rule-set.ts';

/** Numbers of part 48, and aircraft numbers of part 47 as 14 CFR 47.15 writes them. */
const PART_48 = /^FA[0-9A-Z]{8}$/;
const PART_47 = /^N[1-9](?:\d{0,4}|\d{0,3}[A-HJ-NP-Z]|\d{0,2}[A-HJ-NP-Z]{2})$/;

const LAW = 'AMC1 to Article 14(6) of (EU) 2019/947';

export default defineRule({
  visits: 'aircraft',
  title: 'the registration number is not written as any is',
  question: 'What papers?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'caution', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A number with one wrong character belongs to nobody, or to somebody else. It is the commonest slip in an aircraft file, and the easiest one to mend before somebody asks for it in the field.',
  condition:
    'United States: FA and eight digits or capital letters; or N and one to five characters, the first a digit other than 0, at most two letters at the end, neither I nor O. EU: three capital letters for the State, twelve small letters or digits, and their check character; a number with its three secret digits must also agree with that character, or it is a stop. A number of another form is a caution.',
  exceptions:
    'Without the secret digits the check character cannot be checked, and they do not belong in a file: nothing here ever shows them.',
  mend: 'Copy the number from the certificate, or from the aircraft.',
  sources: [
    {
      cite: 'numbers of 14 CFR part 48',
      edition: '2026',
      trust: 'from memory',
      for: ['us-recreational', 'us-part-107'],
    },
    { cite: '14 CFR 47.15', edition: '2026', trust: 'from memory', for: ['us-recreational', 'us-part-107'] },
    { cite: `${LAW}, AMC1 to 14(8)`, edition: '2026', for: ['eu-open', 'eu-specific'] },
  ],
  needs: ['aircraft'],
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2R, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(aircraft, { plan, ruleSet }) {
    const number = aircraft.registration?.number;
    if (number === undefined || plan.aircraft === undefined) return;
    const related = [{ at: number.span, message: 'the number stands here' }];
    const where = { at: plan.aircraft.span, subject: 'the aircraft', related };
    if (isEuropean(ruleSet)) {
      const fault = operatorNumberFault(number.value);
      if (fault === undefined) return;
      // A text of another form may hold anything, a secret as well, so it is shown up to its first hyphen at most.
      const message = `the operator’s number "${withoutSecret(number.value)}" ${fault.said}; ${LAW} sets both`;
      yield { found: { ...where, message, ...(fault.of === 'form' && { level: 'caution' as const }) } };
      return;
    }
    if (PART_48.test(number.value) || PART_47.test(number.value)) return;
    yield {
      found: {
        ...where,
        message: `the registration number "${withoutSecret(number.value)}" has neither the form of FA with eight characters after it nor that of an N-number; by common practice and 14 CFR 47.15 a number has one of them`,
      },
    };
  },
});
