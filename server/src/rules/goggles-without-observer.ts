import { BESIDE, isBesidePilot } from '../facts/beside-pilot.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { requireRead } from '../facts/unread.ts';
import type { CrewMember } from '../plan/model.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayNumber } from '../units/say.ts';

const sayLacking = (observers: readonly CrewMember[], unaided: readonly CrewMember[]): string => {
  if (observers.length === 0) return 'the crew has no observer';
  return unaided.length === 0
    ? 'every observer watches by goggles, too'
    : `no observer stands within ${sayNumber(BESIDE)} m of the pilot`;
};

export default defineRule({
  visits: 'plan',
  title: 'the pilot flies by goggles and nobody else watches the aircraft',
  question: 'Who must see it?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Goggles show what the camera sees and hide everything else: the aeroplane that comes from behind, the person who walks in below. Somebody with unaided eyes has to keep the aircraft and the sky around it in view for the whole flight and has to be able to tell the pilot at once.',
  condition:
    'With `watches: goggles` the crew has an observer who watches unaided. Recreation and the EU open category: the observer stands beside the pilot, which is taken as at most 10 m away (common practice, no source). Part 107: the observer may stand elsewhere and use a radio, but the pilot must still be able to see the aircraft by taking the goggles off.',
  exceptions: 'How observer and pilot talk is not judged here.',
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

  *check(plan, tools) {
    const { pilot, observers } = plan.crew;
    if (pilot?.watches === undefined) requireRead(plan.slips, 'crew pilot watches', plan.crew.span);
    if (pilot?.watches?.value !== 'goggles') return;
    requireRead(plan.slips, 'crew observers', plan.crew.span);
    const { ruleSet } = tools;
    const unaided = observers.filter(({ watches }) => watches?.value !== 'goggles');
    const who = sayLacking(observers, unaided);
    const places = unaided.map((observer) =>
      orLacking(() => ruleSet === 'us-part-107' || isBesidePilot(observer, pilot, tools)),
    );
    if (places.some((place) => 'known' in place && place.known)) return;
    requireWhole({ lacking: places.filter((place) => 'missing' in place) });
    const law =
      ruleSet === 'us-part-107'
        ? '14 CFR 107.31(b)'
        : ruleSet === 'eu-open'
          ? '(EU) 2019/947 Art. 2(24)'
          : '49 U.S.C. 44809(a)(3)';
    yield {
      found: {
        at: pilot.watches.span,
        subject: 'the pilot',
        message: `the pilot watches by goggles and ${who}; ${law} requires one with unaided eyes${ruleSet === 'us-part-107' ? '' : ' beside the pilot'}`,
        related: observers.map(({ span, stands }) => ({
          at: stands?.span ?? span,
          message: 'this observer does not count',
        })),
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
