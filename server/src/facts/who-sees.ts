import { commonIntervals, freeOf, type Interval } from '../geo/interval.ts';
import type { CrewMember, Flight, Item, Leg } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { exceeds, fallsShortOf } from '../units/exceeds.ts';
import { aboveGround } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { areaHeight } from './area-height.ts';
import { isBesidePilot } from './beside-pilot.ts';
import { defineFact, type FactTools } from './fact.ts';
import { flownItems } from './flown-legs.ts';
import {
  anyOf,
  areaHiddenAtLower,
  areaHiddenAtUpper,
  columnHidden,
  type Hidden,
  type HiddenFrom,
  legHidden,
} from './hidden.ts';
import { orLacking, type Partly } from './lacking.ts';
import { legHeight } from './leg-height.ts';
import { pathOfLeg } from './leg-path.ts';
import { routePlaceOf } from './route-order.ts';
import { legScreened } from './screened.ts';
import type { Watcher } from './watchers.ts';

/** Who sees which stretches of a leg: nothing that is known stands between. How far away it is, is another question. */
export interface Seen {
  readonly watcher: Watcher;
  readonly stretches: readonly Interval[];
}

export interface SeenFrom extends Partly {
  readonly seen: readonly Seen[];
}

export const legSeen = defineFact({
  name: 'leg-seen',
  derive: (leg: Leg, tools: FactTools): SeenFrom => {
    const { length } = tools.ask(pathOfLeg, leg);
    const ground = tools.ask(legHidden, leg);
    const obstacles = orLacking(() => tools.ask(legScreened, leg));
    const screens = 'known' in obstacles ? obstacles.known.screened : [];
    const seen = ground.hidden.map(({ watcher, stretches }) => {
      const screened = screens.filter((one) => one.watcher === watcher).map((one) => one.stretches);
      return { watcher, stretches: freeOf(anyOf([stretches, ...screened]), { from: 0, to: length }) };
    });
    return {
      seen,
      lacking: 'known' in obstacles ? [...ground.lacking, ...obstacles.known.lacking] : [...ground.lacking, obstacles],
    };
  },
});

/**
 * Those of whom one has to have the aircraft in view at every moment: under part 107 the pilot, 14 CFR 107.31(a), whom no
 * observer replaces; else the pilot or an observer beside the pilot, 49 U.S.C. 44809(a)(3), (EU) 2019/947 Art. 2(24).
 * Whoever watches by goggles sees nothing of it, unless part 107 asks only that the goggles can be taken off.
 */
export const hasToSee = (member: CrewMember, tools: FactTools): boolean => {
  const { pilot, observers } = tools.plan.crew;
  if (tools.ruleSet === 'us-part-107' || pilot === undefined) return member.role === 'pilot';
  const serves = (observer: CrewMember): boolean => {
    const is = orLacking(() => isBesidePilot(observer, pilot, tools));
    return 'known' in is && is.known && observer.watches?.value !== 'goggles';
  };
  if (member.role === 'observer') return serves(member);
  return pilot.watches?.value !== 'goggles' || !observers.some(serves);
};

/** Where nobody of those who have to see has the aircraft in view, by the one of them who is hidden from it least. */
export interface OutOfSight {
  readonly subject: string;
  readonly written: Span;
  readonly leg?: Leg;
  readonly stretches: readonly Interval[];
  readonly from: Hidden;
  /** True where only the lower part of a hand-flown area is out of sight: who flies by hand can stay above it. */
  readonly partly: boolean;
}

export interface OutOfSightPlaces extends Partly {
  readonly places: readonly OutOfSight[];
}

/** What flies into the ground is told as that, and not as hidden by it, too. */
export const isInGround = (leg: Leg, tools: FactTools): boolean => {
  const height = orLacking(() => tools.ask(legHeight, leg));
  return 'known' in height && !exceeds(height.known.least.value, aboveGround(0));
};

const isAreaInGround = (item: Item, tools: FactTools): boolean => {
  const height = orLacking(() => tools.ask(areaHeight, item));
  return 'known' in height && fallsShortOf(height.known.least.value, aboveGround(0));
};

const together = (hidden: readonly Hidden[]): readonly Interval[] => {
  const [first, ...more] = hidden;
  return first === undefined ? [] : more.reduce((all, one) => commonIntervals(all, one.stretches), first.stretches);
};

/** The one among them for whom the ground rises least over the line of sight. */
const leastHidden = (hidden: readonly Hidden[]): Hidden | undefined =>
  hidden.reduce<Hidden | undefined>(
    (best, one) => (best === undefined || (one.worst?.over ?? 0) < (best.worst?.over ?? 0) ? one : best),
    undefined,
  );

/** Everything of a flight that the ground hides from those who have to see it. */
export const outOfSight = defineFact({
  name: 'out-of-sight',
  derive: (flight: Flight, tools: FactTools): OutOfSightPlaces => {
    const places: OutOfSight[] = [];
    const lacking: Missing[] = [];
    const take = (
      place: Pick<OutOfSight, 'subject' | 'written' | 'leg' | 'partly'>,
      ask: () => HiddenFrom,
    ): boolean => {
      const found = orLacking(ask);
      if ('missing' in found) {
        lacking.push(found);
        return false;
      }
      lacking.push(...found.known.lacking);
      const hidden = found.known.hidden.filter(({ watcher }) => hasToSee(watcher.member, tools));
      const stretches = together(hidden);
      const from = leastHidden(hidden);
      if (stretches.length === 0 || from?.worst === undefined) return false;
      places.push({ ...place, stretches, from });
      return true;
    };
    const takeItem = (item: Item): void => {
      const written = item.id.span;
      if (item.kind === 'area') {
        const subject = `area ${item.id.value}`;
        if (!take({ subject, written, partly: false }, () => tools.ask(areaHiddenAtUpper, item))) {
          if (!isAreaInGround(item, tools))
            take({ subject, written, partly: true }, () => tools.ask(areaHiddenAtLower, item));
        }
      } else if (item.kind === 'take-off' || item.kind === 'land') {
        const subject = item.kind === 'land' ? `landing ${item.id.value}` : `take-off ${item.id.value}`;
        take({ subject, written, partly: false }, () => tools.ask(columnHidden, item));
      }
    };
    for (const item of tools.ask(flownItems, flight)) {
      const { arriving } = routePlaceOf(item, tools);
      if (arriving !== undefined && !isInGround(arriving, tools)) {
        const subject = `leg ${arriving.from.id.value} to ${arriving.to.id.value}`;
        take({ subject, written: item.id.span, leg: arriving, partly: false }, () => tools.ask(legHidden, arriving));
      }
      takeItem(item);
    }
    return { places, lacking };
  },
});
