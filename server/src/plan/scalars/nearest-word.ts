/** Longer texts are no misspelt keys; comparing them would only cost time. */
const LONGEST = 64;

/**
 * The choice that a text most likely misspells, or undefined. Case, blanks, `-` and `_` do not count. Words of five
 * letters or more may differ by two slips, shorter ones by one; a slip is a letter missing, added, replaced, or two
 * neighbours swapped (F. J. Damerau, "A technique for computer detection and correction of spelling errors",
 * Comm. ACM 7, 171-176, 1964). Among equals the first choice wins.
 */
export const nearestWord = (text: string, choices: readonly string[]): string | undefined => {
  if (text.length > LONGEST) return undefined;
  const word = plainWord(text);
  let nearest: string | undefined;
  let least = Math.min(word.length >= 5 ? 2 : 1, word.length - 1) + 1;
  for (const choice of choices) {
    const slips = slipsBetween(word, plainWord(choice), least);
    if (slips >= least) continue;
    least = slips;
    nearest = choice;
  }
  return nearest;
};

const plainWord = (text: string): string => text.toLowerCase().replace(/[-_\s]/g, '');

/** Slips between two words, counted up to `enough`. */
const slipsBetween = (one: string, other: string, enough: number): number => {
  if (Math.abs(one.length - other.length) >= enough) return enough;
  let beforeLast: readonly number[] = [];
  let last: readonly number[] = Array.from({ length: other.length + 1 }, (_, column) => column);
  for (let row = 1; row <= one.length; row++) {
    const current = [row];
    for (let column = 1; column <= other.length; column++) {
      const replaced = at(last, column - 1) + (one[row - 1] === other[column - 1] ? 0 : 1);
      let cost = Math.min(replaced, at(last, column) + 1, at(current, column - 1) + 1);
      const swapped = one[row - 1] === other[column - 2] && one[row - 2] === other[column - 1];
      if (row > 1 && column > 1 && swapped) cost = Math.min(cost, at(beforeLast, column - 2) + 1);
      current.push(cost);
    }
    beforeLast = last;
    last = current;
  }
  return at(last, other.length);
};

const at = (row: readonly number[], column: number): number => row[column] ?? 0;
