import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that the crew is fit to fly',
  question: 'What papers?',
  level: { 'us-part-107': 'stop', 'eu-open': 'stop', 'eu-specific': 'stop' },
  basis: 'law',
  why: 'Tiredness, illness, medicines and alcohol slow the hand and narrow the eye long before one feels it. The question is asked on the day, because only the day can answer it.',
  condition:
    'Within 24 hours before the flight somebody states that pilot and observers know of nothing that would interfere: no condition of body or mind; under part 107 no alcohol within 8 hours, less than 0.04 of it in the blood or breath, and no drug that affects them. Eight hours are the least the law asks for, and no proof of being sober.',
  mend: 'On the day, after looking, write a preflight statement that covers the word crew: `preflight: [{ covers: [crew], seen: TIME, by: pilot }]`. One statement may cover several words. Write no medical facts.',
  sources: [
    { cite: '14 CFR 107.17', edition: '2026', for: ['us-part-107'] },
    { cite: '14 CFR 107.27, 91.17, 91.19', edition: '2024', trust: 'secondary copy', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 UAS.OPEN.060(2)(a)', edition: '2026-10-10', trust: 'from memory', for: ['eu-open'] },
    { cite: '(EU) 2019/947 UAS.SPEC.060', edition: '2026-10-10', trust: 'from memory', for: ['eu-specific'] },
  ],
  needs: [],
  declaredWith: 'crew',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(plan) {
    yield { declared: statedOnDay(plan, 'crew-fitness-unstated', 'crew') };
  },
});
