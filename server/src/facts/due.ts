import type { Plan } from '../plan/model.ts';
import { type Instant, instant } from '../units/frames.ts';
import { NotAssessed } from './fact.ts';

/** Days that a look at the site may be old on the day of the flight. Common practice, no source; a house may ask for less. */
export const STATEMENT_DAYS = 30;

/** A terminal aerodrome forecast reaches at most 30 hours ahead: ICAO Annex 3, from memory. */
export const FORECAST_HOURS = 30;

const HOUR = 3_600_000;

const beforeWindow = (plan: Plan, hours: number): Instant | undefined => {
  const from = plan.window?.from?.value.at;
  return from === undefined ? undefined : instant(from - hours * HOUR);
};

/**
 * What a person sees at the site is missing. It cannot be there before the time from which a look would still be fresh
 * on the day of the flight: until then the gap is "not yet".
 */
export const lackingLook = (plan: Plan, reason: string): NotAssessed =>
  new NotAssessed(reason, beforeWindow(plan, STATEMENT_DAYS * 24));

/** Hours before take-off from which what belongs to the day itself can be said. Common practice, no source. */
const DAY_OF_FLIGHT = 24;

/** Something is missing that can only be said on the day: a call that was made, a restriction that was looked up. */
export const lackingOnDay = (plan: Plan, reason: string): NotAssessed =>
  new NotAssessed(reason, beforeWindow(plan, DAY_OF_FLIGHT));

/** Weather is missing. No forecast for the window can exist before it comes into the reach of one. */
export const lackingWeather = (plan: Plan, reason: string): NotAssessed =>
  new NotAssessed(reason, beforeWindow(plan, FORECAST_HOURS));
