import { celsius } from '../../units/frames.ts';
import type { Change, Conditions, DaySpan, DayTime, UnreadGroup, WeatherReport } from '../../world/weather-report.ts';
import { readConditions } from './conditions.ts';
import { groupsOf } from './groups.ts';

export type Decoded = { readonly name: string } & (
  | { readonly report: WeatherReport }
  /** Finishes the sentence "the report ...". */
  | { readonly refused: string }
);

/** A report on one line: blanks and line breaks (also written out as `\n`) are one blank, the closing `=` goes. */
const tidy = (text: string): string =>
  text
    .replaceAll('\\n', ' ')
    .replace(/[\s=]+/g, ' ')
    .trim()
    .toUpperCase();

/** A forecast for 30 hours with all its changes has some 1,000 characters. */
const LONGEST = 5000;

const HEAD = /^(?:(METAR|SPECI|TAF) )?(?:(?:TAF|AMD|COR) )*([A-Z][A-Z0-9]{3}) (\d{2})(\d{2})(\d{2})Z(?: |$)/;
const VALID = /^(?:(\d{2})(\d{2})\/(\d{2})(\d{2}))(?: |$)/;
const SPAN = /^(\d{2})(\d{2})\/(\d{2})(\d{2})$/;
const CHANGE_STARTS = /(?= (?:FM\d{6}|BECMG|PROB\d{2})(?: |$))|(?<! PROB\d{2})(?= TEMPO(?: |$))/;

const dayTime = (day: string, hours: string, minutes = '0'): DayTime | undefined => {
  const time = { day: Number(day), minutes: Number(hours) * 60 + Number(minutes) };
  return time.day >= 1 && time.day <= 31 && Number(minutes) < 60 && time.minutes <= 1440 ? time : undefined;
};

const spanOf = (parts: RegExpExecArray | null): DaySpan | undefined => {
  if (parts === null) return undefined;
  const [, fromDay = '', fromHour = '', untilDay = '', untilHour = ''] = parts;
  const from = dayTime(fromDay, fromHour);
  const until = dayTime(untilDay, untilHour);
  return from === undefined || until === undefined ? undefined : { from, until };
};

/** Remarks run to the end of a report; in a forecast to the next change, since some offices put them in between. */
const withoutRemarks = (text: string, kind: WeatherReport['kind']): string =>
  kind === 'observation'
    ? text.replace(/(?:^| )RMK(?: .*)?$/, '')
    : text.replace(/(?:^| )RMK(?: .*?)?(?= (?:FM\d{6}|BECMG|PROB\d{2}|TEMPO) |$)/g, '');

/** What military forecasters write behind the last change: no weather. */
const withoutNotices = (text: string): string =>
  text.replace(/ (?:LAST NO AMDS|AMD (?:NOT SKED|LTD)|NEXT \d{4}).*$/, '');

/** Tenths of a degree in the remarks of American stations: `T01560050` is 15.6 C. FAA-H-8083-28 chapter 24, from memory. */
const exactTemperature = (remarks: string): Conditions => {
  const [group, sign, tenths] = / T([01])(\d{3})(?:[01]\d{3})?(?: |$)/.exec(remarks) ?? [];
  if (group === undefined) return {};
  const value = ((sign === '1' ? -1 : 1) * Number(tenths)) / 10;
  return { temperature: { value: celsius(value), group: group.trim() } };
};

/** Forecasts of the next two hours behind an observation are no observation. */
const withoutTrend = (text: string): string => text.replace(/(?:^| )(?:NOSIG|BECMG|TEMPO)(?: .*)?$/, '');

const readChange = (
  text: string,
  valid: DaySpan,
): { readonly change?: Change; readonly unread: readonly UnreadGroup[] } => {
  const [first = '', ...rest] = text.trim().split(' ');
  const from = /^FM(\d{2})(\d{2})(\d{2})$/.exec(first);
  if (from !== null) {
    const { conditions, unread } = readConditions(groupsOf(rest.join(' ')));
    const start = dayTime(from[1] ?? '', from[2] ?? '', from[3]);
    if (start === undefined) return { unread: [{ group: first, of: 'anything', why: 'not understood' }] };
    return { change: { kind: 'from', name: first, span: { from: start, until: valid.until }, conditions }, unread };
  }
  const words = [first];
  while (rest[0] === 'TEMPO') words.push(rest.shift() ?? '');
  const hours = spanOf(SPAN.exec(rest[0] ?? ''));
  // `PROB30` with nothing behind it says nothing; a change without its hours may come at any time.
  if (rest.length === 0) return { unread: [] };
  if (hours !== undefined) words.push(rest.shift() ?? '');
  const { conditions, unread } = readConditions(groupsOf(rest.join(' ')));
  const kind = first === 'BECMG' && hours !== undefined ? 'becoming' : 'passing';
  return { change: { kind, name: words.join(' '), span: hours ?? valid, conditions }, unread };
};

const readForecast = (station: string, issued: DayTime, text: string): WeatherReport | string => {
  const valid = spanOf(VALID.exec(text));
  if (valid === undefined) return 'does not say from when until when it holds';
  const [base = '', ...changes] = withoutNotices(withoutRemarks(text.replace(VALID, 'AUTO '), 'forecast')).split(
    CHANGE_STARTS,
  );
  const first = readConditions(groupsOf(base));
  const read = changes.map((change) => readChange(change, valid));
  return {
    kind: 'forecast',
    station,
    issued,
    base: first.conditions,
    valid,
    changes: read.flatMap(({ change }) => change ?? []),
    unread: [...first.unread, ...read.flatMap(({ unread }) => unread)],
  };
};

const readObservation = (station: string, issued: DayTime, text: string): WeatherReport => {
  const { conditions, unread } = readConditions(groupsOf(withoutTrend(withoutRemarks(text, 'observation'))));
  const base = { ...conditions, ...exactTemperature(/ RMK .*$/.exec(` ${text}`)?.[0] ?? '') };
  return { kind: 'observation', station, issued, base, changes: [], unread };
};

/**
 * Decodes the text of a METAR, SPECI or TAF. Never throws; a text that is none is refused with the reason. Groups are
 * decoded by the package metar-taf-parser one at a time, because in a whole report it leaves out what it does not know
 * and puts neighbouring changes together.
 */
export const decodeReport = (text: string): Decoded => {
  if (text.length > LONGEST) return { name: text.slice(0, 24), refused: 'is longer than any report' };
  const line = tidy(text);
  const head = HEAD.exec(line);
  const plain = text.replace(/\s+/g, ' ').trim();
  const begins = plain.length > 24 ? `${[...plain].slice(0, 24).join('')}...` : plain;
  if (head === null) {
    return {
      name: begins,
      refused: 'does not begin as a METAR or a TAF does, with a station and a time such as KZZU 141255Z',
    };
  }
  const [whole, word, station = '', day = '', hours = '', minutes = ''] = head;
  const rest = line.slice(whole.length);
  const isForecast = word === 'TAF' || VALID.test(rest);
  const name = `${isForecast ? 'TAF' : (word ?? 'METAR')} ${station} ${day}${hours}${minutes}Z`;
  if (station === 'AUTO') return { name, refused: 'names no station' };
  const issued = dayTime(day, hours, minutes);
  if (issued === undefined) return { name, refused: 'has a time that no day has' };
  if (/(?:^| )NIL(?: |$)/.test(rest) || rest === '') return { name, refused: 'holds nothing' };
  if (/(?:^| )CNL(?: |$)/.test(rest)) return { name, refused: 'was cancelled by its office' };
  try {
    const report = isForecast ? readForecast(station, issued, rest) : readObservation(station, issued, rest);
    return typeof report === 'string' ? { name, refused: report } : { name, report };
  } catch {
    return { name, refused: 'could not be decoded' };
  }
};

/** The reports of a text: each begins on a line of its own; lines that are indented carry one on. */
export const reportsOf = (text: string): readonly string[] => {
  const reports: string[] = [];
  for (const line of text.split(/\r\n|\r|\n/)) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    const carriesOn = /^\s/.test(line) || /^(?:FM\d{6}|BECMG|TEMPO|PROB\d{2}|RMK)(?: |$)/.test(line.trim());
    const last = reports.length - 1;
    if (carriesOn && last >= 0) reports[last] = `${reports[last]} ${line.trim()}`;
    else reports.push(line.trim());
  }
  return reports;
};
