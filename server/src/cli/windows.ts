import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { readDate } from '../plan/scalars/time.ts';
import { takeOffTimes } from '../review/take-off-times.ts';
import { endOfDay, startOfDay } from '../units/calendar.ts';
import { once, splitArguments, UsageError } from './arguments.ts';
import { dataFolders } from './data-folders.ts';
import { reasonOf } from './find-plans.ts';
import { jsonText } from './formats/json.ts';
import { type TakeOffDay, windowsReport, windowsText } from './formats/windows.ts';
import type { Machine } from './machine.ts';
import { shownPath } from './shown-path.ts';

const FLAGS = new Set(['--day', '--format', '--data']);

/**
 * `waywarden windows PLAN --day DATE [--format text|json]`: the take-off times of a day at which no stop is found. 0 where
 * there is one, 1 where there is none, 2 where the question cannot be put.
 */
export const windows = async (given: readonly string[], machine: Machine): Promise<number> => {
  const split = splitArguments(given, FLAGS);
  const [path, ...more] = split.words;
  if (path === undefined || more.length > 0) throw new UsageError('windows takes one plan');
  const day = once(split, '--day');
  if (day === undefined) throw new UsageError('windows needs a day: --day 2026-06-14');
  const date = readDate(day);
  if (!date.ok) throw new UsageError(`--day takes a date such as 2026-06-14, not ${JSON.stringify(day)}`);
  const format = once(split, '--format') ?? 'text';
  if (format !== 'text' && format !== 'json')
    throw new UsageError(`windows prints text or json, not ${JSON.stringify(format)}`);

  const host = machine.host(await dataFolders(split.values.get('--data') ?? [], machine));
  let bytes: Uint8Array;
  try {
    bytes = await readFile(path);
  } catch (error) {
    throw new UsageError(`${JSON.stringify(shownPath(path))} cannot be opened: ${reasonOf(error)}`);
  }
  const { input } = await machine.prepare(machine.decode(bytes), resolve(path), host, machine.now());
  const { window } = input.plan;
  const first = window?.from?.value;
  const last = window?.until?.value;
  if (first === undefined || last === undefined || last.at <= first.at) {
    throw new UsageError(
      `${JSON.stringify(shownPath(path))} gives no window that could be read, so how long the flight takes is not known`,
    );
  }
  const { offsetMinutes } = first;
  const steps = takeOffTimes(input, startOfDay(date.value, offsetMinutes), endOfDay(date.value, offsetMinutes));
  let step = steps.next();
  while (step.done !== true) step = steps.next();
  const answer: TakeOffDay = {
    path: shownPath(path),
    title: input.plan.title?.value ?? '',
    date: date.value,
    offsetMinutes,
    lastsMinutes: (last.at - first.at) / 60_000,
    spans: step.value ?? [],
  };
  await machine.print(format === 'json' ? jsonText(windowsReport(answer, machine.version)) : windowsText(answer));
  return answer.spans.some(({ stops }) => stops.length === 0) ? 0 : 1;
};
