/**
 * The one way by which text of a plan reaches a terminal. Control characters, escape sequences, bidirectional
 * overrides and invisible separators become visible escapes, so that no plan can draw a line of its own.
 */
const UNPRINTABLE =
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

export const plain = (text: string): string =>
  text.replace(UNPRINTABLE, (unit) => `\\u{${unit.charCodeAt(0).toString(16)}}`);

export interface Paint {
  readonly stop: (text: string) => string;
  readonly caution: (text: string) => string;
  readonly note: (text: string) => string;
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
}

const code =
  (open: number, close: number) =>
  (text: string): string =>
    `\u001b[${open}m${text}\u001b[${close}m`;
const same = (text: string): string => text;

/** Colours where the terminal wants them. The level always stands in words beside the colour. */
export const paintFor = (coloured: 'coloured' | 'plain'): Paint =>
  coloured === 'coloured'
    ? { stop: code(31, 39), caution: code(33, 39), note: code(36, 39), strong: code(1, 22), faint: code(2, 22) }
    : { stop: same, caution: same, note: same, strong: same, faint: same };
