import { sayNumber } from '../../units/say.ts';

/**
 * The grammar of numbers: an optional sign, digits without a leading zero, optionally a point and digits. Everything
 * else that a person might mean by a number is recognised here too, but only so that the finding can offer the mended
 * text: an exponent, a decimal comma or an octal number never reaches arithmetic unseen.
 */
export interface TakenNumber {
  /** The number in the grammar above. */
  readonly number: string;
  readonly value: number;
  /** What follows the number, with its blanks. */
  readonly rest: string;
  /** Whether it was written in the grammar above. */
  readonly plain: boolean;
  /** Another number that the text could mean: `1,420` is 1420 or 1.42. */
  readonly otherNumber?: string;
}

const PLAIN = /^(0|[1-9]\d*)(\.\d+)?$/;
const SIGN = /^[+\-\u2212]?/;
/** Digits with every mark that people put between them. A blank belongs to it only before a digit. */
const RUN = /^[\d.,_'\u2019]+(?:\s\d[\d.,_'\u2019]*)*/;
const EXPONENT = /^[eE][+-]?\d{1,2}(?![\d.])/;
const FRACTION = /^(?:(\d{1,3})\s)?(\d{1,3})\/(\d{1,3})(?![\d/.,])/;
/** What must not follow a number: more digits behind a mark, or the letters of a hexadecimal, octal or binary number. */
const TANGLED = /^(?:\s*[-+\u2212/:]\s*\d|[eExXoObB]\d)/;

/** Takes the number at the start of a text; undefined where none can be made out. */
export const takeNumber = (text: string): TakenNumber | undefined => {
  const sign = SIGN.exec(text)?.[0] ?? '';
  const minus = sign === '-' || sign === '\u2212' ? '-' : '';
  const unsigned = text.slice(sign.length);
  const fraction = takeFraction(unsigned);
  if (fraction !== undefined)
    return { ...fraction, number: minus + fraction.number, value: signed(minus, fraction.value) };
  const run = RUN.exec(unsigned)?.[0];
  if (run === undefined) return undefined;
  const rest = unsigned.slice(run.length);
  const exponent = EXPONENT.exec(rest)?.[0];
  if (exponent !== undefined) return withExponent(minus, run, exponent, rest.slice(exponent.length));
  if (TANGLED.test(rest)) return undefined;
  const [number, otherNumber] = numbersOf(run);
  if (number === undefined) return undefined;
  return {
    number: minus + number,
    value: signed(minus, Number(number)),
    rest,
    plain: PLAIN.test(run),
    ...(otherNumber === undefined ? {} : { otherNumber: minus + otherNumber }),
  };
};

/** Minus nought is nought. */
const signed = (minus: string, value: number): number => (minus === '' || value === 0 ? value : -value);

const withoutLeadingZeros = (number: string): string => number.replace(/^0+(?=\d)/, '');

/** The numbers in our grammar that a run of digits and marks can mean, likeliest first; none if it makes no sense. */
const numbersOf = (run: string): readonly [string?, string?] => {
  if (PLAIN.test(run)) return [run];
  const digits = joinGroups(run);
  if (digits === undefined) return [];
  if (/^\d+(\.\d+)?$/.test(digits)) return [withoutLeadingZeros(digits)];
  if (/^[.,]\d+$/.test(digits)) return [`0.${digits.slice(1)}`];
  if (/^\d+[.,]$/.test(digits)) return [withoutLeadingZeros(digits.slice(0, -1))];
  if (/^[1-9]\d{0,2},\d{3}$/.test(digits))
    return [digits.replace(',', ''), sayNumber(Number(digits.replace(',', '.')), 3)];
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$/.test(digits)) return [digits.replaceAll(',', '')];
  if (/^[1-9]\d{0,2}(\.\d{3})+,\d+$/.test(digits)) return [digits.replaceAll('.', '').replace(',', '.')];
  if (/^[1-9]\d{0,2}(\.\d{3}){2,}$/.test(digits)) return [digits.replaceAll('.', '')];
  if (/^\d+,\d+$/.test(digits)) return [withoutLeadingZeros(digits.replace(',', '.'))];
  return [];
};

/** Joins groups of digits set apart by blanks, apostrophes or underscores; undefined where they are not groups. */
const joinGroups = (run: string): string | undefined => {
  if (!/[_'\u2019\s]/.test(run)) return run;
  if (/^\d+(_\d+)+([.,]\d+)?$/.test(run)) return run.replaceAll('_', '');
  if (/^[1-9]\d{0,2}(['\u2019\s]\d{3})+([.,]\d+)?$/.test(run)) return run.replace(/['\u2019\s]/g, '');
  return undefined;
};

const withExponent = (minus: string, run: string, exponent: string, rest: string): TakenNumber | undefined => {
  if (!PLAIN.test(run)) return undefined;
  const value = Number(run + exponent);
  const number = sayNumber(value, 6);
  if (!PLAIN.test(number) || Number(number) !== value) return undefined;
  return { number: minus + number, value: signed(minus, value), rest, plain: false };
};

/** `1/2` and `1 1/2`, as visibility is given; only where a decimal number says the same exactly. */
const takeFraction = (text: string): TakenNumber | undefined => {
  const [all, whole = '0', top, bottom] = FRACTION.exec(text) ?? [];
  if (all === undefined || Number(bottom) === 0) return undefined;
  const value = Number(whole) + Number(top) / Number(bottom);
  const number = sayNumber(value, 4);
  if (Number(number) !== value) return undefined;
  return { number, value, rest: text.slice(all.length), plain: false };
};
