import { type Seconds, seconds } from '../../units/frames.ts';
import { takeNumber } from './number.ts';
import { refuseNumber } from './quantity.ts';
import { type Reading, refuse, tidyBlanks } from './reading.ts';

export interface ReadShutter {
  readonly number: number;
  readonly unit: 's';
  readonly value: Seconds;
}

const EXPECTED = 'an exposure time such as 1/1000 s';

/** Reads how long a shutter is open, as it is engraved on cameras: `1/1000 s`; also `0.001 s` and `1 ms`. */
export const readShutter = (text: string): Reading<ReadShutter> => {
  const tidy = tidyBlanks(text);
  const fraction = /^1 ?\/ ?(\d{1,6}(?:\.\d{1,3})?) ?(s?)$/i.exec(tidy);
  if (fraction?.[2] === '') return refuseNumber(text, EXPECTED, [`1/${fraction[1]} s`]);
  const taken = fraction === null ? takeNumber(tidy) : undefined;
  const unit = tidyBlanks(taken?.rest ?? '').toLowerCase();
  if (fraction === null && (taken === undefined || !taken.plain || (unit !== 's' && unit !== 'ms'))) {
    return refuseNumber(text, EXPECTED, taken?.plain === true && unit === '' ? [`1/${taken.number} s`] : []);
  }
  const value = fraction === null ? (taken?.value ?? 0) * (unit === 'ms' ? 0.001 : 1) : 1 / Number(fraction[1]);
  if (!(value > 0 && value <= 60)) {
    return refuse({ kind: 'number-out-of-range', text, expected: 'above 0 s and up to 60 s' });
  }
  return { ok: true, number: value, unit: 's', value: seconds(value) };
};
