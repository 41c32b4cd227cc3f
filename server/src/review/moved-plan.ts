import { flightsOf } from '../plan/flights.ts';
import type { Item, Plan, Window } from '../plan/model.ts';
import type { Written } from '../text/span.ts';
import type { ZonedTime } from '../units/calendar.ts';
import { type Instant, instant } from '../units/frames.ts';

const movedTime = (time: Written<ZonedTime>, by: number): Written<ZonedTime> => ({
  ...time,
  value: { ...time.value, at: instant(time.value.at + by) },
});

const movedWindow = (window: Window, by: number): Window => ({
  ...window,
  ...(window.from === undefined ? {} : { from: movedTime(window.from, by) }),
  ...(window.until === undefined ? {} : { until: movedTime(window.until, by) }),
});

const movedItem = (item: Item, by: number): Item =>
  item.window === undefined ? item : { ...item, window: movedWindow(item.window, by) };

/**
 * The plan with its window, and those of its flights, moved by a time in milliseconds: what reading its text with the
 * moved times would give. A plan that says it was flown loses that, for it is to be flown again.
 */
export const movedBy = (plan: Plan, by: number): Plan => {
  if (plan.window === undefined) return plan;
  const { flown: _, ...rest } = plan;
  const hasOwn = plan.items.some((item) => item.window !== undefined);
  const items = hasOwn ? plan.items.map((item) => movedItem(item, by)) : plan.items;
  return {
    ...rest,
    window: movedWindow(plan.window, by),
    items,
    flights: hasOwn ? flightsOf(items, plan.flights) : plan.flights,
  };
};

/** The plan with its window moved so that it begins at a time; undefined where the plan gives no beginning. */
export const takenOffAt = (plan: Plan, at: Instant): Plan | undefined => {
  const from = plan.window?.from?.value.at;
  return from === undefined ? undefined : movedBy(plan, at - from);
};
