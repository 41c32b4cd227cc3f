/**
 * A hover of this many characters is cut off by the client (VS Code: 100,000), which would lose its end without a word.
 */
const LONGEST = 90_000;

/**
 * Text of a plan as Markdown that shows exactly that text: no emphasis, link, picture, HTML or address comes to life in
 * it. CommonMark 0.31.2 section 2.4: a backslash before any ASCII punctuation stands for the character itself. Commas,
 * quotes and the like mean nothing in Markdown and stay, since some clients show the backslashes.
 */
export const escapeMarkdown = (text: string): string =>
  text
    .replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, ' ')
    // Marks that turn the direction of writing could make a plan's text read as something else.
    .replace(/[\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, '')
    .replace(/[!#$&()*+\-./:<=>@[\\\]^_`{|}~]/g, '\\$&');

/** Paragraphs as one Markdown text, cut at a paragraph's end where it grows too long. */
export const joinParagraphs = (paragraphs: readonly string[]): string => {
  const kept: string[] = [];
  let length = 0;
  for (const paragraph of paragraphs) {
    if (paragraph === '') continue;
    length += paragraph.length + 2;
    if (length > LONGEST) {
      kept.push('*There is more than fits here.*');
      break;
    }
    kept.push(paragraph);
  }
  return kept.join('\n\n');
};

/** The same for a client that shows plain text only. */
export const plainOf = (markdown: string): string =>
  markdown
    .replace(/(?<!\\)(\*\*|`)/g, '')
    .replace(/^#+ /gm, '')
    .replace(/\\([!-/:-@[-`{-~])/g, '$1');
