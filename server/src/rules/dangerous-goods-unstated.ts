import { statedOnDay } from '../facts/preflight.ts';
import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'nobody has stated that nothing dangerous is carried',
  question: 'May I fly here?',
  level: { 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'What burns, poisons or explodes turns a fall into something else. These rules let nobody carry it, and no waiver changes that.',
  condition:
    'Somebody states that the aircraft carries no hazardous material (part 107) and no dangerous goods (EU open category). The battery that drives it is no cargo; a spare lithium cell that rides along is.',
  mend: 'On the day, after looking, write a preflight statement that covers the word aircraft: `preflight: [{ covers: [aircraft], seen: TIME, by: pilot }]`. One statement may cover several words.',
  sources: [
    { cite: '14 CFR 107.36, 49 CFR 171.8', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 4(1)(f)', edition: '2021', trust: 'secondary copy', for: ['eu-open'] },
  ],
  needs: [],
  declaredWith: 'aircraft',
  example: {
    faulty: '# without=preflight\n',
    sound: '',
  },

  *check(plan) {
    yield { declared: statedOnDay(plan, 'dangerous-goods-unstated', 'aircraft') };
  },
});
