import { speedOn } from '../facts/course-volume.ts';
import { given, present } from '../facts/fact.ts';
import { greatestHeight } from '../facts/height-near-people.ts';
import { FOOT_POUND, fallSpeed, INJURY, kineticEnergy } from '../facts/impact-energy.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { flightCourses } from '../facts/people-passes.ts';
import { claimedCategory } from '../rulebook/people-category.ts';
import { defineRule, type RuleTools } from '../rulebook/rule.ts';
import { sayNumber } from '../units/say.ts';
import type { Missing } from '../world/world.ts';

/** The figure of the category that the plan claims; undefined where it claims none that has one. */
const figureOf = ({ plan }: RuleTools) => {
  const category = claimedCategory(plan);
  return category === 'category 2' || category === 'category 3' ? INJURY[category] : undefined;
};

export default defineRule({
  visits: 'flight',
  title: 'the aircraft carries more energy than the figure of its category',
  question: 'Over people?',
  level: { 'us-part-107': 'note' },
  basis: 'practice',
  why: 'The figures of the law for flight over people are severities of injury, put as the energy that a rigid object hands over when it hits. An aircraft that breaks or gives way hands over a part of what it carries, and may carry more. That it does is what its declaration has shown, at the speeds and heights that it was tried for: it is worth looking these up.',
  condition:
    'For category 2 (11 ft-lb, 14.9 J) and category 3 (25 ft-lb, 33.9 J): m V² / 2 at the fastest of the flight over the ground, and after a fall from its greatest height above ground (with the resistance of the air where the aircraft file has a `drag-area`), is not more than the figure. One note for a flight.',
  exceptions:
    'The figures bound no flight. The 80 J of the European class C1 are told in hovers only: the class mark shows them to be met.',
  mend: 'Look up in the manual and the declaration of compliance at which speeds and heights the aircraft meets its category.',
  sources: [
    {
      cite: '14 CFR 107.120(a)(1), 107.130(a)(1)',
      edition: '2026-01-01',
      trust: 'secondary copy',
      for: ['us-part-107'],
    },
  ],
  needs: ['aircraft', 'terrain', 'weather'],
  example: {
    faulty: 'category: category 2\n',
    sound: '',
  },

  *check(flight, tools) {
    const figure = figureOf(tools);
    if (figure === undefined) return;
    const { mass: written, dragArea } = present(tools.world.aircraft);
    const mass = given(written, 'the take-off mass of the aircraft').value;
    const { courses, lacking } = tools.ask(flightCourses, flight);
    const unknown: Missing[] = [...lacking];
    let [fastest, highest] = [0, 0];
    for (const course of courses) {
      const speed = orLacking(() => speedOn(course, tools));
      const height = orLacking(() => greatestHeight(course, tools));
      if ('missing' in speed) unknown.push(speed);
      else fastest = Math.max(fastest, speed.known);
      if ('missing' in height) unknown.push(height);
      else highest = Math.max(highest, height.known);
    }
    const flown = kineticEnergy(mass, fastest);
    const fallen = kineticEnergy(mass, fallSpeed(highest, mass, dragArea?.value));
    if (flown > figure.joules || fallen > figure.joules) {
      const say = (joules: number): string => `${sayNumber(joules)} J (${sayNumber(joules / FOOT_POUND)} ft-lb)`;
      yield {
        found: {
          at: tools.plan.category?.span ?? tools.plan.aircraft?.span ?? tools.plan.titleSpan,
          subject: `the energy of flight ${flight.number}`,
          message: `the aircraft carries ${say(flown)} at ${sayNumber(fastest)} m/s and ${say(fallen)} after a fall from ${sayNumber(highest)} m above ground${dragArea === undefined ? ' without resistance of the air' : ''}; ${figure.law} puts its severity of injury at ${figure.said} from a rigid object, which only the declaration of the aircraft shows to be met`,
        },
      };
    }
    requireWhole({ lacking: unknown });
  },
});
