import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';

/** The first 16 hex digits of SHA-256 (FIPS 180-4) over texts, each ended by a line feed. */
export const digestOf = (parts: readonly string[]): string =>
  bytesToHex(sha256(utf8ToBytes(parts.map((part) => `${part}\n`).join('')))).slice(0, 16);
