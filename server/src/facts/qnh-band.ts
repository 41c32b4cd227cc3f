import { type Pascals, pascals } from '../units/frames.ts';
import type { Missing } from '../world/world.ts';
import type { FactTools } from './fact.ts';
import { orLacking } from './lacking.ts';
import { qnhInWindow } from './weather-in-window.ts';

/**
 * Least and greatest pressure at sea level with which anybody flies: 940 hPa is the middle of a great storm; 1078.6 hPa,
 * at Northway in January 1989, is the record of North America (both from memory).
 */
const LEAST_QNH = pascals(94_000);
const GREATEST_QNH = pascals(108_000);

/** Between which pressures the QNH of the window lies; `unknown` says why that is only what is plausible. */
export interface QnhBand {
  readonly least: Pascals;
  readonly greatest: Pascals;
  readonly unknown?: Missing;
}

/** The QNH that the plan's weather gives for the window, by hand or in its reports; else every plausible one. */
export const qnhBand = (tools: FactTools): QnhBand => {
  const stated = orLacking(() => tools.ask(qnhInWindow, tools.plan));
  const lacking = 'missing' in stated ? [stated] : stated.known.lacking;
  const values = 'missing' in stated ? [] : stated.known.values.map(({ value }) => value);
  const [unknown] = lacking;
  if (values.length === 0 || unknown !== undefined) {
    const why = unknown ?? { missing: 'the plan gives no pressure (QNH)' };
    return { least: LEAST_QNH, greatest: GREATEST_QNH, unknown: why };
  }
  return { least: pascals(Math.min(...values)), greatest: pascals(Math.max(...values)) };
};
