import { readTime } from '../plan/scalars/time.ts';
import type { Instant } from '../units/frames.ts';
import { UsageError } from './arguments.ts';
import type { Machine } from './machine.ts';

/** The time of judging that was given on the call, else the machine's. */
export const givenNow = (text: string | undefined, machine: Machine): Instant => {
  if (text === undefined) return machine.now();
  const read = readTime(text);
  if (read.ok) return read.value.at;
  throw new UsageError(
    `--now takes a time with an offset, such as 2026-06-14T06:00-07:00, not ${JSON.stringify(text)}`,
  );
};
