import type { FactTools } from '../facts/fact.ts';
import { flownLegs } from '../facts/flown-legs.ts';
import { orLacking, requireWhole } from '../facts/lacking.ts';
import { legScreened, type Screened, screenedLength } from '../facts/screened.ts';
import { sayMember } from '../facts/watchers.ts';
import { hasToSee, isInGround, type OutOfSight, outOfSight } from '../facts/who-sees.ts';
import { distance } from '../geo/geodesy.ts';
import { totalLength } from '../geo/interval.ts';
import type { Flight, Leg } from '../plan/model.ts';
import { elevationToBlameOnLeg } from '../rulebook/elevation-to-blame.ts';
import type { Complaint } from '../rulebook/finding.ts';
import { defineRule } from '../rulebook/rule.ts';
import type { RuleSetId } from '../rulebook/rule-set.ts';
import { outdoes } from '../units/exceeds.ts';
import { sayCount, sayDistance, sayNumber } from '../units/say.ts';
import { isMissing, type Missing } from '../world/world.ts';

const LAW: Readonly<Partial<Record<RuleSetId, string>>> = {
  'us-part-107': '14 CFR 107.31(a) requires that the pilot can see it throughout the flight',
  'us-recreational': '49 U.S.C. 44809(a)(3) requires that the pilot or an observer beside the pilot sees it',
  'eu-open': '(EU) 2019/947 Art. 4(1)(d) requires that the pilot, or an observer alongside, keeps it in sight',
};

/** "for 120 m": of legs only; an area or a landing has no length. */
const sayStretch = ({ leg, stretches }: OutOfSight): string => {
  const length = leg === undefined ? 0 : totalLength(stretches);
  return length >= 1 ? ` for ${sayDistance(length)}` : '';
};

const hiddenByGround = (
  flight: Flight,
  worst: OutOfSight,
  others: readonly OutOfSight[],
  tools: FactTools,
): Complaint => {
  const { from, leg } = worst;
  const { watcher, worst: there } = from;
  const over = there?.over ?? 0;
  const { terrain } = tools.world;
  const within =
    !isMissing(terrain) && over <= terrain.error ? ', which is within the stated error of the terrain' : '';
  const how =
    there === undefined
      ? ''
      : `: ${sayDistance(distance(watcher.at, there.at))} away the ground rises ${sayNumber(Math.max(0, over))} m above the line of sight${within}`;
  const law =
    (tools.ruleSet === undefined ? undefined : LAW[tools.ruleSet]) ?? 'the law requires that somebody sees it';
  const more = others.length === 0 ? '' : ` (with ${sayCount(others.length, 'more place')})`;
  const part = worst.partly ? 'the lower part of ' : '';
  const places = [worst, ...others];
  const flown = places.flatMap(({ leg: each, stretches }) => (each === undefined ? [] : { leg: each, on: stretches }));
  const cause = leg === undefined ? undefined : elevationToBlameOnLeg(leg, tools);
  return {
    at: worst.written,
    ...(worst.partly ? { level: 'caution' as const } : {}),
    subject: `flight ${flight.number}`,
    message: `${part}${worst.subject} is hidden from ${sayMember(watcher.member)} by the ground${sayStretch(worst)}${more}${how}; ${law}`,
    measured: { value: over, unit: 'm' },
    limit: { value: 0, unit: 'm', setBy: 'the line of sight' },
    ...(there === undefined
      ? {}
      : {
          place: { at: there.at, ...(leg === undefined ? {} : { alongM: there.along }), altitudeAmslM: there.ground },
        }),
    ...(leg === undefined
      ? {}
      : { intervals: worst.stretches.map((stretch) => ({ fromAlongM: stretch.from, toAlongM: stretch.to })) }),
    ...(flown.length === places.length ? { parts: flown } : {}),
    related: [
      ...others.map((one) => ({
        at: one.written,
        message: `${one.partly ? 'the lower part of ' : ''}${one.subject} is hidden, too${sayStretch(one)}`,
      })),
      { at: watcher.member.span, message: `${sayMember(watcher.member)} stands here` },
    ],
    ...(cause === undefined ? {} : { cause }),
  };
};

interface ScreenedLeg {
  readonly leg: Leg;
  readonly by: Screened;
}

const hiddenByObstacles = (flight: Flight, worst: ScreenedLeg, all: readonly ScreenedLeg[]): Complaint => {
  const names = [...new Set(all.map(({ by }) => by.obstacle.name))];
  const others = names.length > 1 ? ` (with ${sayCount(names.length - 1, 'more obstacle')})` : '';
  return {
    at: worst.leg.to.id.span,
    level: 'caution',
    subject: `flight ${flight.number} behind obstacles`,
    message: `leg ${worst.leg.from.id.value} to ${worst.leg.to.id.value} passes behind "${worst.by.obstacle.name}" for about ${sayDistance(screenedLength(worst.by.stretches))}${others}, seen from ${sayMember(worst.by.watcher.member)}; whoever has to see it loses it there`,
    intervals: worst.by.stretches.map(({ from, to }) => ({ fromAlongM: from, toAlongM: to })),
    parts: all.map(({ leg, by }) => ({ leg, on: by.stretches })),
    related: all
      .filter((one) => one !== worst)
      .map(({ leg, by }) => ({
        at: leg.to.id.span,
        message: `leg ${leg.from.id.value} to ${leg.to.id.value} passes behind "${by.obstacle.name}"`,
      })),
  };
};

/** Legs behind obstacles for the pilot. */
const screenedLegs = (flight: Flight, tools: FactTools, lacking: Missing[]): readonly ScreenedLeg[] => {
  return tools.ask(flownLegs, flight).flatMap((leg): readonly ScreenedLeg[] => {
    if (isInGround(leg, tools)) return [];
    const found = orLacking(() => tools.ask(legScreened, leg));
    // That obstacles or places are not known is told by the rules about obstacles and by what the ground hides.
    if ('missing' in found) return [];
    const own = found.known.screened.filter(({ watcher }) => hasToSee(watcher.member, tools));
    if (own.length === 0) return [];
    lacking.push(...found.known.lacking);
    return own.map((by) => ({ leg, by }));
  });
};

export default defineRule({
  visits: 'flight',
  title: 'the ground hides the aircraft from whoever has to see it',
  question: 'Who must see it?',
  level: { 'us-recreational': 'stop', 'us-part-107': 'stop', 'eu-open': 'stop' },
  basis: 'law',
  why: 'Behind a hill nobody sees where the aircraft is, which way it points, or the helicopter that comes down the valley. On a map the leg looks near; the line of sight runs into the slope.',
  condition:
    'From the eyes of the pilot, 1.6 m (5 ft 3 in) above the ground (common practice, no source), a straight line reaches the aircraft all along every leg, in every hand-flown area, and over each take-off and landing place from 2 m (6 ft 7 in) up. It is worked out over the whole ground between the pilot and the leg, with the curve of the Earth and refraction, and not at sample points. Under part 107 the pilot is the one who has to be able to see, also with observers; in recreation and in the EU an observer beside the pilot will do. Legs that pass behind obstacles which are wider than 0.5 m are a caution, as is an area of which only the lower part is hidden.',
  exceptions:
    'Trees and houses count where the plan lists them as obstacles. An area is looked at along its rim and along rows across it. One finding for a flight, at the worst place.',
  mend: 'Let the pilot stand where the whole route is in view, fly higher behind the rise, or fly in parts.',
  otherReading:
    '14 CFR 107.31(a) also names the observer, if one is used. Observers share the sky between them, so that only the pilot is asked for here. Guidance lets the aircraft disappear for a moment; how long that is, the law does not say.',
  sources: [
    { cite: '49 U.S.C. 44809(a)(3)', edition: '2018, with amendments read up to 2026-11-25', for: ['us-recreational'] },
    { cite: '14 CFR 107.31(a)', edition: '2026-01-01', for: ['us-part-107'] },
    { cite: '(EU) 2019/947 Art. 2(24), 4(1)(d), UAS.OPEN.060(4)', edition: '2026-10-10', for: ['eu-open'] },
    { cite: 'height of the eyes', edition: '1', trust: 'common practice, no source' },
  ],
  needs: ['terrain'],
  waivable: ['14 CFR 107.31'],
  example: {
    faulty:
      'route:\n  - take-off: home\n    climb-to: 70 m AGL\n  - point: far-side\n    at: 47.5, -120.4985\n    altitude: 30 m AGL\n  - land: home\n',
    sound:
      'route:\n  - take-off: home\n    climb-to: 70 m AGL\n  - point: far-side\n    at: 47.5, -120.4985\n    altitude: 75 m AGL\n  - land: home\n',
    world: 'ground: { valley: { floor: 440 m, rim: 400 m, middle: -120.499, half-width: 0.0005 } }\n',
    soundWorld: 'ground: { valley: { floor: 440 m, rim: 400 m, middle: -120.499, half-width: 0.0005 } }\n',
  },

  *check(flight, tools) {
    const { places, lacking: unseen } = tools.ask(outOfSight, flight);
    const lacking = [...unseen];
    const [first] = places;
    if (first !== undefined) {
      const weight = ({ partly, from }: OutOfSight): number => (from.worst?.over ?? 0) - (partly ? 1e6 : 0);
      const worst = places.reduce((one, other) => (outdoes(weight(other), weight(one)) ? other : one), first);
      yield {
        found: hiddenByGround(
          flight,
          worst,
          places.filter((one) => one !== worst),
          tools,
        ),
      };
    }
    const screened = screenedLegs(flight, tools, lacking);
    const [one] = screened;
    if (one !== undefined) {
      const length = ({ by }: ScreenedLeg): number => screenedLength(by.stretches);
      const worst = screened.reduce((best, other) => (outdoes(length(other), length(best)) ? other : best), one);
      yield { found: hiddenByObstacles(flight, worst, screened) };
    }
    requireWhole({ lacking });
  },
});
