import { HEIGHT_SOURCES, lawHeight } from '../rulebook/height-limit.ts';
import { defineRule } from '../rulebook/rule.ts';
import { sayMetresAndFeet, sayNumber } from '../units/say.ts';

export default defineRule({
  visits: 'plan',
  title: 'the house sets a height limit that is looser than the law',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'House limits make flying stricter, never looser. A limit above the law would be believed by the crew and has no effect here.',
  condition:
    'The height limit in the settings is written above ground (AGL) and is not more than the law’s: 400 ft (121.92 m) in the United States, 120 m (393.7 ft) in the EU open category.',
  mend: 'Write a lower height into the settings, or take the limit out; the law’s own limit then holds.',
  sources: HEIGHT_SOURCES,
  needs: [],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { height: { is: 150 m AGL, because: hills } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { height: { is: 80 m AGL, because: helicopters } }\n',
  },

  *check(plan, { settings, ruleSet }) {
    const house = settings.limits.height;
    if (house === undefined || ruleSet === undefined || ruleSet === 'eu-specific') return;
    const height = house.value.value;
    const law = lawHeight(ruleSet);
    const related = [{ at: house.span, message: 'the house set the limit here' }];
    const at = plan.titleSpan;
    const subject = 'the settings';
    if (!('aboveGround' in height)) {
      yield {
        found: {
          at,
          subject,
          message: `waywarden.settings.yaml limits the height to ${sayNumber(house.value.number, 4)} ${house.value.unit} ${house.value.datum}; a limit counts from the ground (AGL), so it has no effect`,
          related,
        },
      };
      return;
    }
    if (height.aboveGround <= law.value) return;
    yield {
      found: {
        at,
        subject,
        message: `waywarden.settings.yaml allows ${sayMetresAndFeet(height.aboveGround)} above ground, which has no effect; ${law.setBy} allows at most ${sayMetresAndFeet(law.value)}`,
        related,
      },
    };
  },
});
