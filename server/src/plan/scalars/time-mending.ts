import { sayDate } from '../../units/calendar.ts';

/**
 * Other ways to write a date or a time, understood only in order to offer the form that the plan wants. What can be
 * read in two ways, such as 04/05/2026, is not mended.
 */
const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const MONTH =
  '(jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)';

const YEAR_FIRST = /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})(?!\d)/;
const UNBROKEN = /^(\d{4})(\d{2})(\d{2})(?!\d)/;
const YEAR_LAST = /^(\d{1,2})[-/. ] ?(\d{1,2})[-/. ] ?(\d{4})(?!\d)/;
const DAY_AND_MONTH = new RegExp(`^(\\d{1,2})(?:st|nd|rd|th)?[-. ]? ?${MONTH}[-. ,]{0,2}(\\d{4})(?!\\d)`, 'i');
const MONTH_AND_DAY = new RegExp(`^${MONTH}\\.? (\\d{1,2})(?:st|nd|rd|th)?,? (\\d{4})(?!\\d)`, 'i');

const CLOCK = /^(?:,? |[T,])(?:at )?(\d{1,2})(?:[:.h](\d{2})(?:[:.](\d{2}))?|(\d{2}))?(?: ?([ap])\.?m\.?)?(?![\d:])/i;
const ZONE = /^ ?(?:(?:utc|gmt)?([+\-\u2212])(\d{1,2})(?::?(\d{2}))?|(z|utc|gmt))$/i;

interface Mended {
  readonly written: string;
  readonly rest: string;
}

/** The date in the form `2026-06-14`, where the text is a date in another form; undefined where it is not clear. */
export const mendDate = (tidy: string): string | undefined => {
  const date = takeDate(tidy);
  return date?.rest === '' ? date.written : undefined;
};

/** The time in the form `2026-06-14 06:40 -07:00`. An offset that is not there cannot be made up. */
export const mendTime = (tidy: string): string | undefined => {
  const date = takeDate(tidy);
  const clock = date === undefined ? undefined : takeClock(date.rest);
  const zone = clock === undefined ? undefined : zoneOf(clock.rest);
  if (date === undefined || clock === undefined || zone === undefined) return undefined;
  return `${date.written} ${clock.written} ${zone}`;
};

const takeDate = (text: string): Mended | undefined => {
  const plain = YEAR_FIRST.exec(text) ?? UNBROKEN.exec(text);
  if (plain !== null) return dated(text, plain[0], plain[1], plain[2], plain[3]);
  const last = YEAR_LAST.exec(text);
  if (last !== null) return yearLast(text, last);
  const dayFirst = DAY_AND_MONTH.exec(text);
  if (dayFirst !== null) return dated(text, dayFirst[0], dayFirst[3], monthNumber(dayFirst[2]), dayFirst[1]);
  const monthFirst = MONTH_AND_DAY.exec(text);
  if (monthFirst !== null) return dated(text, monthFirst[0], monthFirst[3], monthNumber(monthFirst[1]), monthFirst[2]);
  return undefined;
};

/** Day or month first: told only by a number that cannot be a month, or by two equal ones. */
const yearLast = (text: string, [all, one, two, year]: RegExpExecArray): Mended | undefined => {
  if (Number(one) > 12 || one === two) return dated(text, all, year, two, one);
  return Number(two) > 12 ? dated(text, all, year, one, two) : undefined;
};

const dated = (text: string, taken: string, year?: string, month?: string, day?: string): Mended => ({
  written: sayDate({ year: Number(year), month: Number(month), day: Number(day) }),
  rest: text.slice(taken.length),
});

const monthNumber = (name = ''): string => String(MONTHS.indexOf(name.slice(0, 3).toLowerCase()) + 1);

const takeClock = (text: string): Mended | undefined => {
  const [all, h, m, seconds, joined, half] = CLOCK.exec(text) ?? [];
  if (all === undefined || h === undefined) return undefined;
  const minutes = m ?? joined;
  if (minutes === undefined && half === undefined) return undefined;
  const hours = half === undefined ? Number(h) : hoursOfHalf(Number(h), half);
  if (hours === undefined) return undefined;
  const written = `${twoDigits(hours)}:${minutes ?? '00'}${seconds === undefined ? '' : `:${seconds}`}`;
  return { written, rest: text.slice(all.length) };
};

/** Hours of the day from a twelve-hour clock. */
const hoursOfHalf = (hours: number, half: string): number | undefined => {
  if (hours < 1 || hours > 12) return undefined;
  return (hours % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
};

const zoneOf = (text: string): string | undefined => {
  const [all, sign, hours, minutes, utc] = ZONE.exec(text) ?? [];
  if (all === undefined) return undefined;
  if (utc !== undefined) return 'Z';
  return `${sign === '+' ? '+' : '-'}${twoDigits(Number(hours))}:${minutes ?? '00'}`;
};

const twoDigits = (n: number): string => String(n).padStart(2, '0');
