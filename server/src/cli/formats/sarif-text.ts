import { plain } from '../terminal.ts';

/**
 * Text of a plan as the plain text of a SARIF message (SARIF 2.1.0, sections 3.11.5 and 3.11.6): brackets would make a
 * link, and braces a placeholder. The file's own escapes are those of JSON.
 */
export const sarifText = (text: string): string =>
  plain(text)
    .replace(/[\\[\]]/g, '\\$&')
    .replace(/[{}]/g, '$&$&');
