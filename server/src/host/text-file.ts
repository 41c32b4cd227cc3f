/**
 * The text of a file's bytes: UTF-8, or UTF-16 where a byte order mark says so, as YAML 1.2.2 section 5.2 has it. Bytes
 * that are no text come out as replacement characters, which the reader reports.
 */
export const decodeText = (bytes: Uint8Array): string => {
  const [first, second] = bytes;
  const encoding =
    first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : 'utf-8';
  return new TextDecoder(encoding, { ignoreBOM: true }).decode(bytes);
};
