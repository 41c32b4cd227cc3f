import { plain } from '../terminal.ts';

/**
 * Text of a plan on a page of a hosting platform. Besides Markdown and HTML, platforms make links of `@name`, `#12`,
 * `owner/name#12`, `!12`, `~label` and the like after the Markdown is read, so that no escape of Markdown keeps them from
 * it: a zero-width space after the sign does. Whatever is invisible in the text itself is made visible first.
 */
const unlinked = (text: string): string =>
  text
    .replace(/[@#!~%&$^](?=[\p{L}\p{N}_"'*[{/-])/gu, '$&\u200b')
    .replace(/:(?=(?:[A-Za-z_+-][\w+-]*|100|1234):)/g, ':\u200b')
    .replace(/\bgh-(?=\d)/gi, '$&\u200b');

/** So much of one text is shown. */
const LONGEST = 400;

const shortened = (text: string): string =>
  text.length <= LONGEST ? text : `${text.slice(0, LONGEST)}… (${text.length - LONGEST} characters more)`;

/**
 * One line of Markdown that shows the text itself, also in the cell of a table, but not at the start of a line. CommonMark
 * 0.31.2 section 2.4: a backslash before ASCII punctuation stands for the character itself. Only what means something
 * inside a line is escaped, so that a page holds as much as it can; of addresses the colon, and the point of `www.`, since
 * platforms make links of them.
 */
export const hosted = (text: string): string =>
  unlinked(plain(shortened(text)))
    .replace(/[!#$&*<>@[\\\]^_`|~]|:(?=\/)/g, '\\$&')
    .replace(/\b(www|mailto|xmpp)([.:])/gi, '$1\\$2');

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** The same inside an HTML element, where Markdown is not read. */
export const hostedHtml = (text: string): string =>
  unlinked(plain(shortened(text))).replace(/[&<>"']/g, (sign) => ENTITIES[sign] ?? sign);
