import { defineRule } from '../rulebook/rule.ts';

export default defineRule({
  visits: 'plan',
  title: 'the pilot flies by goggles and nobody else watches the aircraft',
  question: 'Who must see it?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Goggles show what the camera sees and hide everything else: the aeroplane that comes from behind, the person who walks in below. Somebody with unaided eyes has to keep the aircraft and the sky around it in view for the whole flight and has to be able to tell the pilot at once.',
  condition:
    'With `watches: goggles` the crew has an observer. Recreation and the EU open category: the observer stands beside the pilot and talks without technical means. Part 107: the observer may stand elsewhere and use a radio, but the pilot must still be able to see the aircraft by taking the goggles off.',
  mend: 'Add an observer to the crew, or fly by unaided sight.',
  otherReading:
    'Part 107.31(a) names the pilot, too. This tool takes it that a pilot who can take the goggles off at once is able to see.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(3)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.31, 107.33', edition: '2026', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 2(24), UAS.OPEN.060(4)', edition: '2026-10-10', for: ['eu-open'] },
  ],
  needs: [],
  waivable: ['14 CFR 107.31'],
  example: {
    faulty: 'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, watches: goggles }\n',
    sound:
      'crew:\n  pilot: { stands: take-off, held: remote pilot, tested: 2025-11-03, watches: goggles }\n  observers:\n    - { name: second, stands: beside pilot, talks-by: voice }\n',
  },

  *check(plan, { ruleSet }) {
    const { pilot, observers } = plan.crew;
    if (pilot?.watches?.value !== 'goggles' || observers.length > 0) return;
    const law =
      ruleSet === 'us-part-107'
        ? '14 CFR 107.31(b)'
        : ruleSet === 'eu-open'
          ? '(EU) 2019/947 UAS.OPEN.060(4)'
          : '49 U.S.C. 44809(a)(3)';
    yield {
      found: {
        at: pilot.watches.span,
        subject: 'the pilot',
        message: `the pilot watches by goggles and the crew has no observer; ${law} requires one with unaided eyes`,
        fixes: [
          {
            title: 'Fly by unaided sight: write "unaided" (was "goggles")',
            effect: 'changes-flight',
            edits: [{ span: pilot.watches.span, text: 'unaided' }],
          },
        ],
      },
    };
  },
});
