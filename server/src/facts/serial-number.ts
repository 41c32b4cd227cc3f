/** Digits and capitals without I and O, which are read as 1 and 0: ANSI/CTA-2063-A, read in secondary copies. */
const SERIAL = /^[0-9A-HJ-NP-Z]{4}([1-9A-F])([0-9A-HJ-NP-Z]*)$/;

/** Longest and shortest form: four characters of the maker, one for the length, and one to fifteen of its own. */
const SHORTEST = 6;
const LONGEST = 20;

/**
 * What keeps a serial number from being one of ANSI/CTA-2063-A; it finishes "the serial number ...". Undefined where it
 * has the form: four characters of the maker, one that tells how many follow (1 to 9, then A for 10 to F for 15), and
 * just as many. The standard has no check digit, so the length is all that a slip of the pen can be told by.
 */
export const serialFault = (serial: string): string | undefined => {
  if (/[a-z]/.test(serial)) return 'has small letters';
  if (/[IO]/.test(serial)) return 'has the letter I or O';
  if (!/^[0-9A-Z]*$/.test(serial)) return 'has characters other than digits and capital letters';
  if (serial.length < SHORTEST || serial.length > LONGEST) {
    return `has ${serial.length} characters, not ${SHORTEST} to ${LONGEST}`;
  }
  const [, code = '', own = ''] = SERIAL.exec(serial) ?? [];
  const told = Number.parseInt(code, 16);
  if (Number.isNaN(told)) return 'has no length from 1 to F as its fifth character';
  return told === own.length
    ? undefined
    : `says by its fifth character that ${told} ${told === 1 ? 'follows' : 'follow'}, and has ${own.length}`;
};
