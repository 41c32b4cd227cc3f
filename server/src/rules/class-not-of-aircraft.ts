import { CLASS_LIMITS, type ClassLimits } from '../facts/eu-classes.ts';
import type { Aircraft } from '../plan/aircraft.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import { exceeds } from '../units/exceeds.ts';
import { sayNumber } from '../units/say.ts';

type Beyond = Pick<Complaint, 'measured'> & { readonly said: string; readonly value: number; readonly most: number };

/** Everything by which the file goes beyond its mark, one after another. */
const beyondOf = ({ mass, maxSpeed, size }: Aircraft, limits: ClassLimits): readonly Beyond[] => {
  const { massBelow, speedUpTo, sizeBelow } = limits;
  const list: Beyond[] = [];
  if (mass !== undefined && massBelow !== undefined && mass.value >= massBelow) {
    const said = `weighs ${sayNumber(mass.value, 4)} kg, and the class ends below ${sayNumber(massBelow, 2)} kg`;
    list.push({ said, value: mass.value, most: massBelow, measured: { value: mass.value, unit: 'kg' } });
  }
  if (maxSpeed !== undefined && speedUpTo !== undefined && exceeds(maxSpeed.value, speedUpTo)) {
    const said = `can fly ${sayNumber(maxSpeed.value, 3)} m/s, and the class ends at ${sayNumber(speedUpTo)} m/s`;
    list.push({ said, value: maxSpeed.value, most: speedUpTo, measured: { value: maxSpeed.value, unit: 'm/s' } });
  }
  if (size !== undefined && sizeBelow !== undefined && size.value >= sizeBelow) {
    const said = `measures ${sayNumber(size.value, 3)} m, and the class ends below ${sayNumber(sizeBelow)} m`;
    list.push({ said, value: size.value, most: sizeBelow, measured: { value: size.value, unit: 'm' } });
  }
  return list;
};

export default defineRule({
  visits: 'aircraft',
  title: 'the aircraft as it flies is beyond the class it is marked with',
  question: 'Which rules apply?',
  level: { 'eu-open': 'stop', 'eu-specific': 'caution' },
  basis: 'law',
  why: 'A class mark stands for what was tested. With a bigger battery or a payload the aircraft is another one, and the mark no longer speaks for it.',
  condition:
    'C0: below 250 g, at most 19 m/s (36.9 kt) in level flight. C1: at most 19 m/s; its mass may be 900 g and more where it transfers less than 80 J. C2: below 4 kg. C3: below 25 kg, below 3 m in its largest dimension. C4: below 25 kg. Mass is that on take-off with everything on board.',
  mend: 'Take off what is too much, correct the aircraft file, or state it without the mark and fly in A3.',
  otherReading:
    'The 80 J of C1 are what reaches a head in an impact, not half of mass times speed squared. That figure is shown in hovers and never judged.',
  sources: [{ cite: '(EU) 2019/945 annex, parts 1 to 5', edition: '2026-10-10', trust: 'secondary copy' }],
  needs: ['aircraft'],
  example: {
    faulty:
      'country: FR\ncategory: A1\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-05-02 } }\nroute:\n  - take-off: home\n  - land: home\n',
    sound: '',
    world:
      'aircraft: |\n  aircraft: 1\n  name: teal\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 250 g\n  size: 0.3 m\n  eu-class: C0\n',
  },

  *check(aircraft, { plan, ruleSet }) {
    const mark = aircraft.euClass?.value;
    if (mark === undefined || plan.aircraft === undefined || !(mark in CLASS_LIMITS)) return;
    const [first, ...more] = beyondOf(aircraft, CLASS_LIMITS[mark as keyof typeof CLASS_LIMITS]);
    if (first === undefined) return;
    const law = '(EU) 2019/945';
    yield {
      found: {
        at: plan.aircraft.span,
        subject: 'the aircraft',
        message: `the aircraft is marked ${mark}, but it ${[first, ...more].map(({ said }) => said).join('; it ')}; ${law} sets this${ruleSet === 'eu-specific' ? ', and here the authorisation decides' : ''}`,
        ...(first.measured && {
          measured: first.measured,
          limit: { value: first.most, unit: first.measured.unit, setBy: law },
        }),
        related: [{ at: aircraft.euClass?.span ?? aircraft.nameSpan, message: 'the mark stands here' }],
      },
    };
  },
});
