import type { DarkHours } from '../facts/dark-hours.ts';
import type { Plan } from '../plan/model.ts';
import type { Span } from '../text/span.ts';
import { sayTime, sayTimeAndUtc } from '../units/calendar.ts';
import { type Instant, instant } from '../units/frames.ts';
import { sayList, sayNumber } from '../units/say.ts';
import type { Fix } from './finding.ts';

const MINUTE = 60_000;

/** What the dark is called: from sunset to sunrise, or from the end of evening to the beginning of morning twilight. */
export type DarkKind = 'sun down' | 'night';

const EDGES: Readonly<Record<DarkKind, { readonly begins: string; readonly ends: string; readonly all: string }>> = {
  'sun down': { begins: 'sunset', ends: 'sunrise', all: 'the sun is down' },
  night: { begins: 'the night begins', ends: 'the night ends', all: 'it is night' },
};

/** `17 min`, `2 h 5 min`; less than a minute is not told as none. */
const sayDuration = (ms: number): string => {
  const minutes = Math.max(1, Math.round(ms / MINUTE));
  if (minutes < 60) return `${minutes} min`;
  const rest = minutes % 60;
  return `${sayNumber(Math.floor(minutes / 60), 0)} h${rest === 0 ? '' : ` ${rest} min`}`;
};

/**
 * Which part of the window lies in the dark: "the window ends 17 min after sunset at home, 2026-06-14 20:53 -07:00
 * (2026-06-15 03:53 UTC)".
 */
export const sayDark = (dark: DarkHours, kind: DarkKind, plan: Plan): string => {
  const { begins: dusk, ends: dawn, all } = EDGES[kind];
  const offsetMinutes = plan.window?.until?.value.offsetMinutes ?? 0;
  // To the nearest minute, as official times are printed.
  const say = (at: Instant): string => sayTimeAndUtc({ at: instant(Math.round(at / MINUTE) * MINUTE), offsetMinutes });
  const parts = dark.stretches.map(({ from, until, begins, ends }) => {
    if (begins === undefined && ends === undefined) return `${all} at ${dark.where} during the whole window`;
    if (begins === undefined && ends !== undefined)
      return `the window begins ${sayDuration(until - from)} before ${dawn} at ${dark.where}, ${say(ends)}`;
    if (begins !== undefined && ends === undefined)
      return `the window ends ${sayDuration(until - from)} after ${dusk} at ${dark.where}, ${say(begins)}`;
    return `${all} at ${dark.where} for ${sayDuration(until - from)} of the window from ${say(from)}`;
  });
  return sayList(parts);
};

/** Where a finding about the dark stands: the end of the window that reaches into it, else its beginning. */
export const darkEnd = ({ stretches }: DarkHours, plan: Plan): Span => {
  const end = stretches[0]?.begins === undefined ? plan.window?.from : plan.window?.until;
  return (end ?? plan.window?.until)?.span ?? plan.window?.span ?? plan.titleSpan;
};

/** Keeps the window in the light, where only one end of it reaches into the dark. */
export const stayInLight = ({ stretches }: DarkHours, plan: Plan): readonly Fix[] => {
  const [only, more] = stretches;
  const { from, until } = plan.window ?? {};
  if (only === undefined || more !== undefined || from === undefined || until === undefined) return [];
  const { begins, ends } = only;
  if ((begins === undefined) === (ends === undefined)) return [];
  const late = begins !== undefined;
  const written = late ? until : from;
  const at = instant(late ? Math.floor(begins / MINUTE) * MINUTE : Math.ceil((ends ?? 0) / MINUTE) * MINUTE);
  if (at <= from.value.at || at >= until.value.at) return [];
  const { offsetMinutes } = written.value;
  const text = sayTime({ at, offsetMinutes });
  return [
    {
      title: `${late ? 'End' : 'Begin'} the window at ${text} (was ${sayTime(written.value)})`,
      effect: 'changes-flight',
      edits: [{ span: written.span, text }],
    },
  ];
};
