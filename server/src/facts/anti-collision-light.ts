import type { Aircraft, Light } from '../plan/aircraft.ts';
import { LENGTH_UNITS } from '../units/convert.ts';
import { fallsShortOf } from '../units/exceeds.ts';
import { type Metres, metres } from '../units/frames.ts';
import { defineFact, NotAssessed } from './fact.ts';
import { requireRead } from './unread.ts';

/** 14 CFR 107.29(a)(2) and (b): visible for at least 3 statute miles, 4828.032 m. */
export const LIGHT_RANGE = metres(3 * LENGTH_UNITS.mi);

/** The anti-collision light of an aircraft: the one that is seen from farthest among those that flash. */
export interface AntiCollisionLight {
  readonly light: Light;
  readonly visible: Metres;
  readonly reachesFarEnough: boolean;
}

/** What is not said of a light that may be the one. */
const untold = (light: Light): string | undefined => {
  if (light.flashing?.value === 'no') return undefined;
  if (light.visible !== undefined && fallsShortOf(light.visible.value, LIGHT_RANGE)) return undefined;
  if (light.flashing === undefined) return 'whether its light flashes ("flashing")';
  return light.visible === undefined ? 'from how far away its light can be seen ("visible")' : undefined;
};

/** Undefined where the aircraft file names no light that flashes. */
export const antiCollisionLight = defineFact({
  name: 'anti-collision-light',
  derive: (aircraft: Aircraft): AntiCollisionLight | undefined => {
    const lights = aircraft.lights ?? [];
    let best: AntiCollisionLight | undefined;
    for (const light of lights) {
      if (light.flashing?.value !== 'yes' || light.visible === undefined) continue;
      const visible = light.visible.value;
      if (best === undefined || visible > best.visible)
        best = { light, visible, reachesFarEnough: !fallsShortOf(visible, LIGHT_RANGE) };
    }
    if (best?.reachesFarEnough === true) return best;
    requireRead(aircraft.slips, 'lights');
    for (const light of lights) {
      const what = untold(light);
      if (what !== undefined) throw new NotAssessed(`the aircraft file does not say ${what}`);
    }
    return best;
  },
});
