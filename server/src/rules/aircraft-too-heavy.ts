import { given, NotAssessed } from '../facts/fact.ts';
import { dayOf } from '../rulebook/day-of.ts';
import { defineRule } from '../rulebook/rule.ts';
import { MASS_UNITS } from '../units/convert.ts';
import { sayNumber } from '../units/say.ts';

/** 55 lb; 14 CFR 107.3 ends below it, 49 U.S.C. 44809(c)(3) begins at it. */
const POUNDS_55 = 55 * MASS_UNITS.lb;

/** (EU) 2019/947 Art. 4(1)(b): less than 25 kg. */
const KILOGRAMS_25 = 25;

/** Differences below a tenth of a milligram are the arithmetic's. */
const SCALE = 1e-7;

/** FAA Reauthorization Act of 2024, sec. 928: 44809(c)(3), 55 pounds or greater. */
const FROM_55_LB = '2024-05-16';

const sayMass = (kilograms: number): string => `${sayNumber(kilograms, 4)} kg`;

export default defineRule({
  visits: 'aircraft',
  title: 'the aircraft is heavier than the rules it is to fly by allow',
  question: 'Which rules apply?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'The rules for small aircraft were written for what a small aircraft can do to the ground. Above their mass others hold, with approvals of the aircraft itself.',
  condition:
    'The mass on take-off, with everything on board or attached, is less than 55 lb (24.948 kg) under part 107, and less than 25 kg (55.12 lb) in the EU open category. For recreation an aircraft of 55 lb or more follows approved standards of a community-based organisation and flies from a fixed site; a plan cannot show that, so the question stays open until the crew answers it in a `preflight` statement.',
  exceptions:
    'Exactly 55 lb is no small aircraft of part 107, and it is one of 44809(c)(3). The EU specific category sets no mass of its own.',
  mend: 'Leave something at home; or fly under the rules for heavier aircraft: an exemption (49 U.S.C. 44807), or the specific category.',
  otherReading:
    'At exactly 55 lb older texts let recreation be within its own rules and part 107 out. Since 16 May 2024 44809(c)(3) speaks of 55 lb or greater, so both are out there.',
  sources: [
    {
      cite: '14 CFR 107.3, 1.1 (small unmanned aircraft)',
      edition: '2026',
      trust: 'from memory',
      for: ['us-part-107'],
    },
    { cite: '49 U.S.C. 44809(c)(3)', edition: '2024-05-16', for: ['us-recreational'] },
    { cite: '(EU) 2019/947 Art. 4(1)(b)', edition: '2021', trust: 'secondary copy', for: ['eu-open'] },
  ],
  needs: ['aircraft'],
  declarable: true,
  example: {
    faulty: '',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: bustard\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 55 lb\n  size: 1.9 m\n',
  },

  *check(aircraft, { plan, ruleSet }) {
    if (plan.aircraft === undefined) return;
    const mass = given(aircraft.mass, 'the take-off mass of the aircraft').value;
    const limit = ruleSet === 'eu-open' ? KILOGRAMS_25 : POUNDS_55;
    const room = limit - mass;
    if (ruleSet === 'us-recreational') {
      // Until then 44809(c)(2) spoke of more than 55 lb.
      const before = (dayOf(plan) ?? FROM_55_LB) < FROM_55_LB;
      if (room > SCALE || (before && room >= -SCALE)) return;
      throw new NotAssessed(
        `the aircraft weighs ${sayMass(mass)}; from 55 lb (${sayMass(limit)}) upward 49 U.S.C. 44809(c)(3) asks for approved standards of a community-based organisation and a fixed site, which a plan does not show`,
      );
    }
    const law = ruleSet === 'eu-open' ? '(EU) 2019/947 Art. 4(1)(b)' : '14 CFR 107.3';
    const measured = { value: mass, unit: 'kg' as const };
    const bound = { value: limit, unit: 'kg' as const, setBy: law };
    if (room > SCALE) {
      yield { margin: { subject: 'the aircraft', at: plan.aircraft.span, measured, limit: bound, room } };
      return;
    }
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft weighs ${sayMass(mass)} on take-off; ${law} requires less than ${ruleSet === 'eu-open' ? sayMass(limit) : `${sayMass(limit)} (55 lb)`}`,
        measured,
        limit: bound,
        related: [{ at: aircraft.mass?.span ?? aircraft.nameSpan, message: 'the aircraft file says so here' }],
      },
    };
  },
});
