/**
 * Addresses of documents that do not lie on this machine's disk (RFC 3986). Two spellings of one address come out as
 * the same text, so that locations can be compared.
 */
interface Address {
  readonly scheme: string;
  readonly authority: string;
  /** Decoded names of the path, without `.` and `..`. */
  readonly names: readonly string[];
}

const SHAPE = /^([A-Za-z][A-Za-z0-9+.-]*):(?:\/\/([^/?#]*))?([^?#]*)/;

const decoded = (part: string): string => {
  try {
    return decodeURIComponent(part);
  } catch {
    // A percent sign that is no code stands for itself.
    return part;
  }
};

const walk = (start: readonly string[], steps: readonly string[]): string[] => {
  const names = [...start];
  for (const step of steps) {
    if (step === '..') names.pop();
    else if (step !== '' && step !== '.') names.push(step);
  }
  return names;
};

const parse = (uri: string): Address => {
  const [, scheme = 'unknown', authority = '', path = ''] = SHAPE.exec(uri) ?? [];
  return { scheme: scheme.toLowerCase(), authority, names: walk([], path.split('/').map(decoded)) };
};

const write = ({ scheme, authority, names }: Address): string =>
  `${scheme}://${authority}/${names.map(encodeURIComponent).join('/')}`;

/** Whether a location is an address and no path of the disk. A drive letter is not a scheme. */
export const isAddress = (location: string): boolean => /^[A-Za-z][A-Za-z0-9+.-]+:/.test(location);

/** The one spelling of an address. A query or fragment does not belong to the place of a file and is left out. */
export const plainAddress = (uri: string): string => write(parse(uri));

/** The address that a relative reference names, seen from a document. `..` never leads above the top. */
export const resolveAddress = (document: string, reference: string): string => {
  const { scheme, authority } = parse(document);
  const path = SHAPE.exec(document)?.[3] ?? '';
  const folder = walk([], path.split('/').slice(0, -1).map(decoded));
  const names = walk(reference.startsWith('/') ? [] : folder, reference.split('/'));
  return write({ scheme, authority, names });
};
