import { serialFault } from '../facts/serial-number.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'the serial number of the remote identification is not written as any is',
  question: 'What papers?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'caution', 'eu-open': 'caution', 'eu-specific': 'caution' },
  basis: 'law',
  why: 'The serial number is how a broadcast leads back to an owner. One wrong character leads to nobody, or to somebody else, and the registration that lists it is then not that of this aircraft.',
  condition:
    'Four characters of the maker, one that tells how many follow (1 to 9, then A for 10 up to F for 15), and just as many; digits and capital letters without I and O. There is no check digit, so a number of the right form may still be a wrong one.',
  mend: 'Copy the number from the aircraft, its module or its declaration, and compare it character by character.',
  sources: [
    { cite: 'ANSI/CTA-2063-A', edition: '2019', trust: 'secondary copy' },
    { cite: '14 CFR 89.110, 89.115', edition: '2026', for: ['us-recreational', 'us-part-107'] },
    { cite: '(EU) 2019/945 annex', edition: '2026-10-10', trust: 'secondary copy', for: ['eu-open', 'eu-specific'] },
  ],
  needs: ['aircraft'],
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2028-03-31 }\n  remote-identification: { means: standard, serial: WAYW8BT00002 }\n',
  },

  *check(aircraft, { plan }) {
    const serial = aircraft.remoteId?.serial;
    if (serial === undefined || plan.aircraft === undefined) return;
    const fault = serialFault(serial.value);
    if (fault === undefined) return;
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the serial number "${serial.value}" ${fault}; ANSI/CTA-2063-A sets its form`,
        related: [{ at: serial.span, message: `the serial number ${fault}` }],
      },
    };
  },
});
