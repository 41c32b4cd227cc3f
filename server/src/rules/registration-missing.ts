import { NotAssessed } from '../facts/fact.ts';
import { registrationDuty } from '../facts/registration-duty.ts';
import { requireRead } from '../facts/unread.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'the aircraft, or its operator, has no registration',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'The number on the aircraft leads back to the one who answers for it. Flying without is one of the commonest breaches, mostly because people believe that a small aircraft needs none.',
  condition:
    'Part 107: every aircraft is registered, whatever its mass. Recreation: above 0.55 lb (249.48 g) on take-off with everything on board. EU open category: the operator registers with an aircraft of 250 g or more; the operator’s number stands as the number of the registration.',
  exceptions:
    'The 0.55 lb relief is for flights made exclusively for recreation. In the EU an operator also registers below 250 g when the aircraft can transfer more than 80 J or carries a sensor able to capture personal data, unless it is a toy; the aircraft file says nothing about either, so below 250 g without a number the question stays open; the crew may answer it in a `preflight` statement.',
  mend: 'Register, and write the number and its end into the aircraft file: `registration: { number: ..., expires: ... }`.',
  otherReading:
    '"250 g" is often printed for 0.55 lb, which are 249.48 g. This tool takes each law by its own unit: in the United States more than 0.55 lb, in the EU 250 g and more.',
  sources: [
    { cite: '14 CFR 48.15(b), 49 U.S.C. 44809(a)(8)', edition: '2026', for: ['us-recreational'] },
    { cite: '14 CFR 107.13, 48.15, 91.203(a)(2)', edition: '2026', for: ['us-part-107'] },
    {
      cite: '(EU) 2019/947 Art. 14(5)',
      edition: '2026-10-10',
      trust: 'secondary copy',
      for: ['eu-open', 'eu-specific'],
    },
  ],
  ask: { whom: 'the register of the aviation authority', kind: 'registration' },
  needs: ['aircraft'],
  declarable: true,
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(aircraft, { ask, plan, ruleSet }) {
    if (aircraft.registration?.number !== undefined || plan.aircraft === undefined) return;
    requireRead(aircraft.slips, 'registration');
    const { needed, requires, because } = ask(registrationDuty, aircraft);
    if (!needed && ruleSet !== 'eu-open') return;
    if (!needed) {
      throw new NotAssessed(
        `the aircraft ${because}, but with a camera or more than 80 J in an impact ${requires} a registered operator all the same, and its file tells neither`,
      );
    }
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft ${because}, but its file has no registration number; ${requires} one`,
        related: [{ at: aircraft.nameSpan, message: 'the aircraft file has no registration number' }],
      },
    };
  },
});
