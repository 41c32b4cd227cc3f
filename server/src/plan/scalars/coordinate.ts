/**
 * One half of a position as written: a number of degrees, degrees and minutes, or degrees, minutes and seconds, with a
 * sign or a letter N, S, E, W before or after it.
 */
export interface Coordinate {
  /** The characters as written, without the letter. */
  readonly numbers: string;
  readonly letter: Letter | undefined;
  readonly from: number;
  readonly to: number;
  /** Degrees, north and east positive. */
  readonly degrees: number;
  /** Decimals of a degree that the notation can tell apart. */
  readonly decimals: number;
}

export type Letter = 'N' | 'S' | 'E' | 'W';

interface Token {
  readonly kind: 'number' | 'letter' | 'sign' | 'mark' | 'comma';
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

const MINUS = '\u2212';
/** Primes are typed in many ways: ' \u2018 \u2019 \u02b9 \u2032 for minutes, " \u201c \u201d \u02ba \u2033 and '' for seconds. */
const TOKEN =
  /\s*(?:(\d+(?:\.\d+)?)|([NSEW](?![a-z]))|([+\-\u2212](?=\d))|([°º˚]|''|['\u2018\u2019\u02b9\u2032]|["\u201c\u201d\u02ba\u2033])|([,;]))\s*/iy;
const LONGEST = 120;

/** The halves of a text, in its order, or the reason why it has none. */
export const coordinatesOf = (text: string): readonly Coordinate[] | string => {
  const tokens = tokensOf(text);
  if (typeof tokens === 'string') return tokens;
  const halves: Coordinate[] = [];
  for (const group of groupsOf(tokens)) {
    const half = coordinateOf(text, group);
    if (typeof half === 'string') return half;
    halves.push(half);
  }
  const commas = tokens.filter((token) => token.kind === 'comma').length;
  if (halves.length === 2 && commas > 1) return `it has ${commas} commas between its two parts`;
  return halves;
};

const tokensOf = (text: string): readonly Token[] | string => {
  if (text.length > LONGEST) return `a position has at most ${LONGEST} characters`;
  const kinds = ['number', 'letter', 'sign', 'mark', 'comma'] as const;
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  for (let start = 0; start < text.length; start = TOKEN.lastIndex) {
    const match = TOKEN.exec(text);
    if (match === null) return `"${text.slice(start, start + 12)}" is no part of a position`;
    const kind = kinds.find((_, index) => match[index + 1] !== undefined) ?? 'mark';
    const from = start + (match[0].length - match[0].trimStart().length);
    const token = match[0].trim();
    tokens.push({ kind, text: token, from, to: from + token.length });
  }
  return tokens;
};

const isNumber = (token: Token): boolean => token.kind === 'number';
const isDegreeMark = (token: Token): boolean => /[°º˚]/.test(token.text);

/** Parts tokens into halves: at a comma, a sign, a letter, or where a second number is marked as degrees. */
const groupsOf = (tokens: readonly Token[]): readonly (readonly Token[])[] => {
  const lettersFirst = tokens[0]?.kind === 'letter';
  const groups: Token[][] = [[]];
  for (const token of tokens) {
    const group = groups[groups.length - 1] ?? [];
    const begun = group.some(isNumber);
    if (token.kind === 'comma') {
      groups.push([]);
    } else if (begun && (token.kind === 'sign' || (token.kind === 'letter' && lettersFirst))) {
      groups.push([token]);
    } else if (token.kind === 'letter' && !lettersFirst) {
      group.push(token);
      groups.push([]);
    } else if (isDegreeMark(token) && group.some(isDegreeMark)) {
      const degrees = group.pop();
      groups.push(degrees === undefined ? [token] : [degrees, token]);
    } else {
      group.push(token);
    }
  }
  return groups.filter((group) => group.length > 0);
};

const coordinateOf = (text: string, tokens: readonly Token[]): Coordinate | string => {
  const from = tokens[0]?.from ?? 0;
  const to = tokens[tokens.length - 1]?.to ?? 0;
  const letters = tokens.filter((token) => token.kind === 'letter');
  const letter = letters[0]?.text.toUpperCase() as Letter | undefined;
  const sign = tokens.find((token) => token.kind === 'sign')?.text;
  const numbers = tokens.filter(isNumber).map((token) => token.text);
  if (numbers.length === 0) return `"${text.slice(from, to)}" has no number`;
  if (numbers.length > 3) return `"${text.slice(from, to)}" has more numbers than degrees, minutes and seconds`;
  if (letters.length > 1) return `"${text.slice(from, to)}" has two letters`;
  if (letter !== undefined && sign !== undefined)
    return `"${text.slice(from, to)}" has both a sign and the letter ${letter}`;
  const fault = marksFault(tokens) ?? numbersFault(numbers);
  if (fault !== undefined) return fault;
  const parts = packed(numbers, letter);
  const packedFault = numbersFault(parts);
  if (packedFault !== undefined) return packedFault;
  const size = Number(parts[0]) + Number(parts[1] ?? 0) / 60 + Number(parts[2] ?? 0) / 3600;
  const negative = sign === '-' || sign === MINUS || letter === 'S' || letter === 'W';
  const written = tokens.filter((token) => token.kind !== 'letter');
  return {
    numbers: text.slice(written[0]?.from ?? from, written[written.length - 1]?.to ?? to),
    letter,
    from,
    to,
    degrees: negative && size !== 0 ? -size : size,
    decimals: decimalsOf(parts),
  };
};

/** Each mark must follow the number of its own size: degrees, then minutes, then seconds. */
const marksFault = (tokens: readonly Token[]): string | undefined => {
  let size = -1;
  for (const [index, token] of tokens.entries()) {
    if (isNumber(token)) size++;
    if (token.kind !== 'mark') continue;
    const before = tokens[index - 1];
    if (before === undefined || !isNumber(before) || sizeOfMark(token.text) !== size) {
      return `the mark ${token.text} stands in the wrong place; the order is degrees °, minutes ', seconds "`;
    }
  }
  return undefined;
};

const sizeOfMark = (mark: string): number => {
  if (/[°º˚]/.test(mark)) return 0;
  return mark === "''" || /["\u201c\u201d\u02ba\u2033]/.test(mark) ? 2 : 1;
};

const numbersFault = (numbers: readonly string[]): string | undefined => {
  const [, minutes = '0', seconds = '0'] = numbers;
  const broken = numbers.slice(0, -1).find((number) => number.includes('.'));
  if (broken !== undefined) return `"${broken}" has decimals although a smaller unit follows it`;
  if (Number(minutes) >= 60) return `there are no ${minutes} minutes of arc; 60 make a degree`;
  if (Number(seconds) >= 60) return `there are no ${seconds} seconds of arc; 60 make a minute`;
  return undefined;
};

/** `473007.6N`, `12028W`: degrees, minutes and seconds in one number, as aeronautical publications print them. */
const packed = (numbers: readonly string[], letter: Letter | undefined): readonly string[] => {
  const [number = ''] = numbers;
  if (letter === undefined || numbers.length !== 1) return numbers;
  const degrees = letter === 'N' || letter === 'S' ? 2 : 3;
  const whole = number.split('.')[0]?.length ?? 0;
  if (whole === degrees + 2) return [number.slice(0, degrees), number.slice(degrees)];
  if (whole !== degrees + 4) return numbers;
  return [number.slice(0, degrees), number.slice(degrees, degrees + 2), number.slice(degrees + 2)];
};

/** A minute is told apart by two decimals of a degree, a second by four. */
const decimalsOf = (parts: readonly string[]): number => {
  const written = parts[parts.length - 1]?.split('.')[1]?.length ?? 0;
  return Math.min(8, written + 2 * (parts.length - 1));
};
