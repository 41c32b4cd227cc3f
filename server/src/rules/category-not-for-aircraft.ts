import { categoriesOf, type OpenCategory } from '../facts/eu-classes.ts';
import { given, present } from '../facts/fact.ts';
import { categoryFixes } from '../rulebook/category-fixes.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayChoices } from '../units/say.ts';

const LAW: Readonly<Record<OpenCategory, string>> = {
  A1: '(EU) 2019/947 UAS.OPEN.020(5)',
  A2: '(EU) 2019/947 UAS.OPEN.030(3)',
  A3: '(EU) 2019/947 UAS.OPEN.040(4)',
};

const isOpen = (category: string): category is OpenCategory => category in LAW;

export default defineRule({
  visits: 'plan',
  title: 'the aircraft may not fly in the subcategory that the plan states',
  question: 'Which rules apply?',
  level: { 'eu-open': 'stop' },
  basis: 'law',
  why: 'How near to people an aircraft may come hangs on what it does to them when it falls. The class mark says what was tested; without a mark only the lightest may fly near people.',
  condition:
    'A1: class C0 or C1; without a mark below 250 g, and if its owner built it also slower than 19 m/s. A2: class C2. A3: every aircraft below 25 kg. Aircraft without a mark that were on the market before 2024 stand as `eu-class: legacy`, those built by their owner as `private`.',
  mend: 'Fly in a subcategory that is open to this aircraft, or take another aircraft.',
  sources: [
    { cite: '(EU) 2019/947 UAS.OPEN.020-040, Art. 20', edition: '2026-10-10', trust: 'secondary copy' },
    { cite: '(EU) 2019/945 annex, parts 1 to 5', edition: '2026-10-10', trust: 'secondary copy' },
  ],
  inForce: { 'eu-open': { since: '2024-01-01' } },
  needs: ['aircraft'],
  example: {
    faulty:
      'country: FR\ncategory: A2\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-05-02 } }\nroute:\n  - take-off: home\n  - land: home\n',
    sound:
      'country: FR\ncategory: A1\nsite: { take-off: { lat: 45.5, lon: 6.3, elevation: 400 m }, permission: { of: shore owner, given: 2026-05-02 } }\nroute:\n  - take-off: home\n  - land: home\n',
    world:
      'aircraft: |\n  aircraft: 1\n  name: teal\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 240 g\n  size: 0.3 m\n  eu-class: C0\n',
    soundWorld:
      'aircraft: |\n  aircraft: 1\n  name: teal\n  kind: multirotor\n  max-wind: 10 m/s\n  mass: 240 g\n  size: 0.3 m\n  eu-class: C0\n',
  },

  *check(plan, { world }) {
    const category = given(plan.category, 'the subcategory of the open category (category: A1, A2 or A3)');
    if (!isOpen(category.value) || category.value === 'A3') return;
    const aircraft = present(world.aircraft);
    const { open, because } = categoriesOf(aircraft);
    if (open.includes(category.value)) return;
    yield {
      found: {
        at: category.span,
        subject: 'the plan',
        message: `the plan is for ${category.value}, but the aircraft ${because}, which ${LAW[category.value]} does not let fly there; it may fly in ${sayChoices(open)}`,
        related: [{ at: aircraft.euClass?.span ?? aircraft.nameSpan, message: 'the aircraft file says so here' }],
        fixes: categoryFixes(category, plan, world),
      },
    };
  },
});
