import { given } from '../facts/fact.ts';
import { registrationDuty } from '../facts/registration-duty.ts';
import { requireRead } from '../facts/unread.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean, type RuleSetId } from '../rulebook/rule-set.ts';

/** Classes whose aircraft have direct remote identification, active and up to date: (EU) 2019/947 UAS.OPEN.020-040. */
const EU_CLASSES = new Set(['C1', 'C2', 'C3']);

/** Direct remote identification in the specific category. */
const SPECIFIC = '(EU) 2019/947 UAS.SPEC.050(1)(l)';

/** What is lacking; undefined where nothing is. A broadcasting means needs its serial number; the EU knows no areas without. */
const lackingOf = ({ remoteId }: Aircraft, ruleSet: RuleSetId | undefined): string | undefined => {
  const { means, serial } = remoteId ?? {};
  if (means === undefined) return 'no means of remote identification';
  if (means.value === 'recognised area')
    return isEuropean(ruleSet) ? 'a recognised area as its means, which the EU does not know' : undefined;
  return serial === undefined ? 'no serial number of its remote identification' : undefined;
};

export default defineRule({
  visits: 'aircraft',
  title: 'the aircraft does not say how it identifies itself from the air',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Remote identification is the number plate in the air: other pilots and the authority can tell who is flying. Without it an aircraft that must have it may not take off.',
  condition:
    'United States: an aircraft that is registered or must be has standard remote identification, a broadcast module, or flies inside a recognised identification area; the first two with their serial number. EU open category: classes C1, C2 and C3 have it active and up to date. EU specific category: every aircraft has it.',
  exceptions:
    'An aircraft of not more than 0.55 lb (249.48 g) flown exclusively for recreation needs none. The same aircraft under part 107 does. A module binds the pilot to see the aircraft at all times.',
  mend: 'Write the means into the aircraft file: `remote-identification: { means: standard, serial: ... }`.',
  sources: [
    { cite: '14 CFR 89.101, 89.105, 89.110, 89.115', edition: '2026', for: ['us-recreational', 'us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.020-040', edition: '2026-10-10', for: ['eu-open'] },
    { cite: SPECIFIC, edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: ['aircraft'],
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n',
  },

  *check(aircraft, { ask, plan, ruleSet }) {
    const lacking = lackingOf(aircraft, ruleSet);
    if (lacking === undefined || plan.aircraft === undefined) return;
    requireRead(aircraft.slips, 'remote-identification');
    const needed =
      ruleSet === 'eu-open'
        ? EU_CLASSES.has(given(aircraft.euClass, 'the class of the aircraft ("eu-class")').value)
        : ruleSet === 'eu-specific' || ask(registrationDuty, aircraft).needed;
    if (!needed) return;
    const law =
      ruleSet === 'eu-open' ? '(EU) 2019/947 UAS.OPEN.020-040' : ruleSet === 'eu-specific' ? SPECIFIC : '14 CFR 89.105';
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft file has ${lacking}; ${law} requires it for this aircraft`,
        related: [
          {
            at: aircraft.remoteId?.span ?? aircraft.nameSpan,
            message: `the aircraft file has ${lacking}`,
          },
        ],
      },
    };
  },
});
