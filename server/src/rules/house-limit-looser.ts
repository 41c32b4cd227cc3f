import type { Plan } from '../plan/model.ts';
import type { HouseLimits } from '../plan/settings.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { HEIGHT_SOURCES, lawHeight } from '../rulebook/height-limit.ts';
import { setHere } from '../rulebook/house.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { SPEED_UNITS } from '../units/convert.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import { metres, metresPerSecond as mps } from '../units/frames.ts';
import { sayMetresAndFeet, sayNumber } from '../units/say.ts';

/** 87 kt: 14 CFR 107.51(a). */
const SPEED = 87 * SPEED_UNITS.kt;

/** (EU) 2019/947 UAS.OPEN.030(1): 30 m from people in A2, outside the low-speed mode. */
const A2_DISTANCE = metres(30);

function* otherLooser(plan: Plan, limits: HouseLimits, ruleSet: RuleSetId): Generator<Complaint> {
  const { speed, peopleDistance } = limits;
  const at = plan.titleSpan;
  if (speed !== undefined && ruleSet === 'us-part-107' && exceeds(speed.value.value, mps(SPEED))) {
    yield {
      at,
      subject: 'the settings: speed',
      message: `waywarden.settings.yaml allows ${sayNumber(speed.value.number, 4)} ${speed.value.unit}, which has no effect; 14 CFR 107.51(a) allows at most 87 kt (44.76 m/s)`,
      related: [setHere(speed)],
    };
  }
  const isA2 = ruleSet === 'eu-open' && plan.category?.value === 'A2' && plan.people?.lowSpeedMode === undefined;
  if (peopleDistance !== undefined && isA2 && fallsShortOf(peopleDistance.value.value, A2_DISTANCE)) {
    yield {
      at,
      subject: 'the settings: people-distance',
      message: `waywarden.settings.yaml asks for ${sayNumber(peopleDistance.value.number, 4)} ${peopleDistance.value.unit} from people, which has no effect; (EU) 2019/947 UAS.OPEN.030(1) asks for 30 m`,
      related: [setHere(peopleDistance)],
    };
  }
}

export default defineRule({
  visits: 'plan',
  title: 'the house sets a limit that is looser than the law',
  question: 'How high?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'House limits make flying stricter, never looser. A limit looser than the law would be believed by the crew and has no effect here.',
  condition:
    'The height limit in the settings is written above ground (AGL) and is not more than the law’s: 400 ft (121.92 m) in the United States, 120 m (393.7 ft) in the EU open category. Under part 107 its speed is not more than 87 kt (44.76 m/s, 100 mph), and in A2 outside the low-speed mode its distance from people not less than 30 m (98.4 ft).',
  mend: 'Write a stricter one into the settings, or take the limit out; the law’s own limit then holds.',
  sources: HEIGHT_SOURCES,
  needs: [],
  example: {
    faulty: '',
    sound: '',
    world: 'settings: |\n  settings: 1\n  limits: { height: { is: 150 m AGL, because: hills } }\n',
    soundWorld: 'settings: |\n  settings: 1\n  limits: { height: { is: 80 m AGL, because: helicopters } }\n',
  },

  *check(plan, { settings, ruleSet }) {
    if (ruleSet === undefined || ruleSet === 'eu-specific') return;
    for (const found of otherLooser(plan, settings.limits, ruleSet)) yield { found };
    const house = settings.limits.height;
    if (house === undefined) return;
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
