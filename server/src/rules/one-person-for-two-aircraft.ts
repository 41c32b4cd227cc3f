import { requireWhole } from '../facts/lacking.ts';
import { namedAt } from '../facts/neighbours.ts';
import { type SharedPerson, sharedCrew } from '../facts/shared-crew.ts';
import { besideWorld, OWN_BESIDE } from '../rulebook/example-alongside.ts';
import type { Lift } from '../rulebook/finding.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { sayNeighbour, sayTogether, TOGETHER } from '../rulebook/say-alongside.ts';
import { waiversOf } from '../rulebook/waived.ts';

const LAWS = {
  'us-recreational': '49 U.S.C. 44809(a)(3) asks for somebody who keeps each aircraft in sight',
  'us-part-107': '14 CFR 107.35 allows a person one aircraft at a time as pilot or observer',
  'eu-open': '(EU) 2019/947 UAS.OPEN.060(2) asks the pilot to keep the aircraft in sight and the air around it in view',
  'eu-specific': '(EU) 2019/947 UAS.SPEC.060 asks for the whole attention of the pilot',
} as const;

const sayRoles = ({ name, role, otherRole, neighbour }: SharedPerson): string =>
  role === otherRole
    ? `"${name.value}" is ${role} here and in ${sayNeighbour(neighbour)}`
    : `"${name.value}" is ${role} here and ${otherRole} in ${sayNeighbour(neighbour)}`;

const liftOf = ({ plan, ruleSet }: RuleTools): Lift | undefined => {
  if (ruleSet !== 'us-part-107') return undefined;
  const valid = waiversOf(plan, '107.35').find(({ mismatch }) => mismatch === undefined)?.waiver;
  return valid && { kind: 'waiver', name: valid.number?.value ?? '', span: valid.span };
};

export default defineRule({
  visits: 'plan',
  title: 'one person has a part in two aircraft at one time',
  question: 'Who must see it?',
  level: { 'us-recreational': 'caution', 'us-part-107': 'stop', 'eu-open': 'caution', 'eu-specific': 'caution' },
  basis: 'law',
  why: 'Two pairs of sticks, or two pieces of sky, are more than one person can attend to. While the eyes are on the one aircraft nobody flies, or sees, the other.',
  condition: `A person, told by the name or initials as written (\`crew: pilot: by\` and \`crew: observers: name\`), who is pilot or observer here is neither pilot nor observer of a plan alongside at the same time. ${TOGETHER}`,
  exceptions: 'Under part 107 a waiver of 14 CFR 107.35 that covers the window lifts it.',
  mend: 'Give one of the two aircraft to another person, or fly one after the other: make the windows follow each other.',
  otherReading:
    'Neither the recreational statute nor the EU open category counts aircraft. Both ask for somebody whose eyes are on the aircraft; one who watches two is taken to fall short of that, as a caution.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(3)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.19, 107.35', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060(2), (4)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.060', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: [],
  waivable: ['14 CFR 107.35'],
  example: {
    faulty: OWN_BESIDE,
    world: besideWorld({ pilot: 'MK' }),
    sound: OWN_BESIDE,
    soundWorld: besideWorld({ pilot: 'TR' }),
  },

  *check(plan, tools) {
    const { people, lacking } = tools.ask(sharedCrew, plan);
    const { ruleSet = 'us-part-107' } = tools;
    const lift = liftOf(tools);
    for (const person of people) {
      const { neighbour, name, role, times } = person;
      yield {
        found: {
          at: name.span,
          subject: `${role} ${name.value}`,
          message: `${sayRoles(person)}, and both may fly ${sayTogether(times, plan)}; ${LAWS[ruleSet]}`,
          related: [{ at: namedAt(plan, neighbour), message: 'the plan that is flown alongside' }],
          ...(lift === undefined ? {} : { liftedBy: lift }),
        },
      };
    }
    requireWhole({ lacking });
  },
});
