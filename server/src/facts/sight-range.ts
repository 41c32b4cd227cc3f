import type { Aircraft } from '../plan/aircraft.ts';
import type { Amount, Plan } from '../plan/model.ts';
import type { HouseLimit } from '../plan/settings.ts';
import { type Metres, metres } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import { defineFact, type FactTools, given, present } from './fact.ts';
import { orLacking, type Partly } from './lacking.ts';
import { visibilityInWindow } from './weather-in-window.ts';

/**
 * Distance up to which position and attitude of an aircraft can still be told, by its largest dimension in metres:
 * 327 CD + 20 m for rotorcraft, 490 CD + 30 m for fixed wing. Source: EASA, Guidelines for UAS operations in the open and
 * specific category, Issue 03 (2025), and LBA, Dimensioning of Flight Geography, Contingency Volume and Ground Risk
 * Buffer, rev. 1.7 (2024). Guidance: 14 CFR part 107 sets no number.
 */
export const attitudeRange = (size: Metres, kind: NonNullable<Aircraft['kind']>['value']): Metres =>
  metres(kind === 'fixed-wing' ? 490 * size + 30 : 327 * size + 20);

/** Ground visibility beyond this is not counted (LBA rev. 1.7), so no range is above 1,500 m. */
const MOST_VISIBILITY = 5000;

/** Distance at which other aircraft are seen in time: 0.3 of the ground visibility. Sources as for `attitudeRange`. */
export const detectionRange = (visibility: Metres): Metres => metres(0.3 * Math.min(visibility, MOST_VISIBILITY));

export interface SightRange extends Partly {
  readonly range: Metres;
  /** What sets it. */
  readonly by: 'aircraft size' | 'visibility' | 'house';
  /** The house's range, tried for its aircraft, where it replaces the formula. */
  readonly house?: HouseLimit<Amount<Metres>>;
}

/**
 * How far from a person the aircraft can be seen well enough. The house's own range replaces the formula. Without a
 * reported visibility the formula takes the best one, so that what is beyond is told; that it is lacking is told too.
 */
export const sightRange = defineFact({
  name: 'sight-range',
  derive: (plan: Plan, tools: FactTools): SightRange => {
    const house = tools.settings.limits.sightRange;
    if (house !== undefined) return { range: house.value.value, by: 'house', house, lacking: [] };
    const aircraft = present(tools.world.aircraft);
    const size = given(aircraft.size, 'the size of the aircraft').value;
    const kind = given(aircraft.kind, 'the kind of the aircraft').value;
    // The least that is surely not exceeded counts; where nothing is told, what is lacking says so.
    const told = orLacking(() => tools.ask(visibilityInWindow, plan));
    const values = 'known' in told ? told.known.values.map(({ value }) => value.most ?? value.least) : [];
    const lacking: readonly Missing[] = 'missing' in told ? [told] : told.known.lacking;
    const byEyes = attitudeRange(size, kind);
    const byAir = detectionRange(metres(Math.min(MOST_VISIBILITY, ...values)));
    return byEyes <= byAir
      ? { range: byEyes, by: 'aircraft size', lacking }
      : { range: byAir, by: 'visibility', lacking };
  },
});
