const ALPHABET = '0123456789abcdefghijklmnopqrstuvwxyz';
const BASE = ALPHABET.length;

/** A number of an operator of the European Union: State, twelve characters and their check, and perhaps the secret ones. */
const NUMBER = /^[A-Z]{3}([0-9a-z]{12})([0-9a-z])(?:-([0-9a-z]{3}))?$/;

/** What a number has after its sixteenth character: never to be shown. */
const SECRET = /-.*$/s;

/**
 * The check character of twelve characters and the three secret ones, in this order: Luhn modulo 36, with weights 2 and 1
 * in turn from the right. AMC1 to Article 14(6) of (EU) 2019/947. Undefined for anything but small letters and digits.
 */
export const operatorCheck = (characters: string): string | undefined => {
  let sum = 0;
  for (let i = 0; i < characters.length; i++) {
    const index = ALPHABET.indexOf(characters.charAt(characters.length - 1 - i));
    if (index < 0) return undefined;
    const product = index * (i % 2 === 0 ? 2 : 1);
    sum += Math.floor(product / BASE) + (product % BASE);
  }
  return ALPHABET.charAt((BASE - (sum % BASE)) % BASE);
};

/** A number without its secret digits, for every text that people or machines read. */
export const withoutSecret = (number: string): string => number.replace(SECRET, '');

export const holdsSecret = (number: string): boolean => NUMBER.exec(number)?.[3] !== undefined;

/**
 * What keeps a number from being an operator's number; it finishes "the operator's number ...". `form`: it is written
 * otherwise than any. `check`: by its check character it was never given out, or its digits are mistyped. Without the
 * secret digits the check cannot be made. No text here ever holds one of them.
 */
export const operatorNumberFault = (
  number: string,
): { readonly of: 'form' | 'check'; readonly said: string } | undefined => {
  const [whole, own, check, secret] = NUMBER.exec(number) ?? [];
  if (whole === undefined) {
    const said =
      'does not have the form of three capital letters for the State and thirteen small letters or digits, as in "FIN87astrdge12k8"';
    return { of: 'form', said };
  }
  if (secret === undefined || operatorCheck(`${own ?? ''}${secret}`) === check) return undefined;
  return { of: 'check', said: 'does not agree with its check character, the sixteenth' };
};
