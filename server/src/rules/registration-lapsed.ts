import { given } from '../facts/fact.ts';
import { flightDay } from '../facts/flight-day.ts';
import { registrationDuty } from '../facts/registration-duty.ts';
import { defineRule } from '../rulebook/rule.ts';
import { isEuropean } from '../rulebook/rule-set.ts';
import { daysBetween, sayDate } from '../units/calendar.ts';
import { sayCount } from '../units/say.ts';

export default defineRule({
  visits: 'aircraft',
  title: 'the registration has lapsed by the day of the flight',
  question: 'What papers?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'A lapsed registration is no registration. It is judged for the day of the flight, not for the day of the check, so that a plan made ahead does not meet a surprise in the field.',
  condition:
    'The last day in `expires` is not before the day on which the window ends. United States: three years after issue unless renewed; the end has to be stated. EU: where the State has set one.',
  mend: 'Renew it and write the new date into the aircraft file.',
  sources: [
    { cite: '14 CFR 48.100(c)', edition: '2026', for: ['us-recreational', 'us-part-107'] },
    { cite: '(EU) 2019/947 Art. 14', edition: '2026-10-10', trust: 'secondary copy', for: ['eu-open', 'eu-specific'] },
  ],
  ask: { whom: 'the register of the aviation authority', kind: 'registration' },
  needs: ['aircraft'],
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bittern-2\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 1.4 kg\n  size: 0.5 m\n  registration: { number: FA3BITT2RN, expires: 2026-06-13 }\n  remote-identification: { means: standard, serial: WAYW8BT000002 }\n',
  },

  *check(aircraft, { ask, plan, ruleSet }) {
    const registration = aircraft.registration;
    if (registration?.number === undefined || plan.aircraft === undefined) return;
    const { needed, law, requires } = ask(registrationDuty, aircraft);
    if (!needed) return;
    // An operator's number of the EU has an end only where the State says so; in the United States it always has one.
    if (registration.expires === undefined && isEuropean(ruleSet)) return;
    const expires = given(registration.expires, 'the end of the registration in the aircraft file');
    const day = ask(flightDay, plan);
    const left = daysBetween(day, expires.value);
    const measure = { value: left, unit: 'days' as const };
    const limit = { value: 0, unit: 'days' as const, setBy: law };
    if (left >= 0) {
      yield { margin: { subject: 'the registration', at: plan.aircraft.span, measured: measure, limit, room: left } };
      return;
    }
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the registration ends on ${sayDate(expires.value)}, ${sayCount(-left, 'day')} before the flight of ${sayDate(day)}; ${requires} a valid one`,
        measured: measure,
        limit,
        related: [{ at: expires.span, message: 'it ends here' }],
      },
    };
  },
});
